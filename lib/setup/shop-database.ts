/** The shop's database: embedded beside the project, or the one that DATABASE_URL names. */
import { randomBytes } from "node:crypto";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { Client } from "pg";
import { type PostgresServer, startPostgres } from "./postgres";
import { type Account, canReach, postgresAccount, SHARED_HOME } from "./postgres-account";
import { keptPassword } from "./secrets";

const DATABASE = "ironbath";

/** A log larger than this is put aside at the next start, bytes. */
const LOG_LIMIT = 5_000_000;

/**
 * Starts the embedded server on the data folder and makes the shop's database on first use.
 *
 * @param say told when the data cannot lie inside the project
 */
export async function startShopDatabase(
  dataFolder: string,
  say: (line: string) => void,
): Promise<PostgresServer & { readonly shopUrl: string }> {
  const account = postgresAccount();
  if (account.uid !== undefined) chmodSync(dataFolder, 0o711);
  const server = await startPostgres({
    cluster: clusterFolder(dataFolder, account, say),
    password: keptPassword(join(dataFolder, "postgres-password")),
    logFile: freshLog(join(dataFolder, "postgres.log")),
  });
  try {
    await createDatabase(server.url("postgres"));
  } catch (error) {
    await server.stop();
    throw error;
  }
  return { ...server, shopUrl: server.url(DATABASE) };
}

async function createDatabase(serverUrl: string): Promise<void> {
  const client = new Client({ connectionString: serverUrl });
  await client.connect();
  try {
    const found = await client.query("SELECT 1 FROM pg_database WHERE datname = $1", [DATABASE]);
    if (found.rowCount === 0) await client.query(`CREATE DATABASE ${DATABASE}`);
  } finally {
    await client.end();
  }
}

/**
 * The cluster lies in the data folder. Only where root runs the service from a folder that the database's account
 * cannot enter (root's own home), it lies outside, and the data folder says where.
 */
function clusterFolder(dataFolder: string, account: Account, say: (line: string) => void): string {
  const inside = join(dataFolder, "postgres");
  const note = join(dataFolder, "postgres-location");
  if (existsSync(note)) return readFileSync(note, "utf8").trim();
  if (canReach(account, dataFolder)) return inside;
  if (existsSync(inside)) {
    throw new Error(
      `PostgreSQL runs as the user "postgres", which can no longer enter ${dataFolder}: let others pass through the folders above it (chmod o+x).`,
    );
  }
  const outside = join(SHARED_HOME, `shop-${randomBytes(6).toString("hex")}`);
  mkdirSync(outside, { recursive: true });
  // Said again, since the umask has its way with what mkdir is told.
  chmodSync(SHARED_HOME, 0o755);
  chmodSync(outside, 0o711);
  const cluster = join(outside, "postgres");
  writeFileSync(note, `${cluster}\n`, { mode: 0o600 });
  say(
    `PostgreSQL may not run as root, and its user cannot enter ${dataFolder}: the database lies in ${cluster}.`,
  );
  return cluster;
}

function freshLog(file: string): string {
  if (existsSync(file) && statSync(file).size > LOG_LIMIT) renameSync(file, `${file}.1`);
  return file;
}
