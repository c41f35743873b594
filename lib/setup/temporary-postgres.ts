/** Throwaway servers for tests and for comparing schemas. */
import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { clearLeftovers, type PostgresServer, startPostgres } from "./postgres";
import { giveTo, postgresAccount } from "./postgres-account";
import { isAlive } from "./processes.mjs";

const PREFIX = "ironbath-postgres-";

/**
 * Starts a server in a temporary folder. It trades durability for speed and is deleted when stopped.
 *
 * @example
 * const server = await startTemporaryPostgres();
 * await applyMigrations(server.url("postgres"));
 * await server.stop();
 */
export async function startTemporaryPostgres(): Promise<PostgresServer> {
  await sweep();
  const home = mkdtempSync(join(tmpdir(), PREFIX));
  writeFileSync(join(home, "owner"), String(process.pid));
  chmodSync(home, 0o711); // the database's account passes through to its cluster
  giveTo(postgresAccount(), home);
  const server = await startPostgres({
    cluster: join(home, "cluster"),
    password: "temporary",
    logFile: join(home, "log"),
    settings: { fsync: "off", synchronous_commit: "off", full_page_writes: "off" },
  });
  return {
    ...server,
    stop: async () => {
      await server.stop();
      rmSync(home, { recursive: true, force: true });
    },
  };
}

/** Clears away the servers of processes that were killed before they could. */
async function sweep(): Promise<void> {
  for (const name of readdirSync(tmpdir()).filter((entry) => entry.startsWith(PREFIX))) {
    const home = join(tmpdir(), name);
    const owner = readOwner(join(home, "owner"));
    if (owner === undefined || isAlive(owner)) continue;
    await clearLeftovers(join(home, "cluster"));
    rmSync(home, { recursive: true, force: true });
  }
}

/** Undefined while the folder is being made, or where it belongs to another user. */
function readOwner(file: string): number | undefined {
  try {
    return Number.parseInt(readFileSync(file, "utf8"), 10);
  } catch {
    return undefined;
  }
}
