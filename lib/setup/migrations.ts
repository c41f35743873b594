/** Migrations, applied and compared by Prisma's own engine (see schema-engine.ts). */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { randomBytes } from "node:crypto";
import { join } from "node:path";
import type {
  DiagnoseMigrationHistoryOutput,
  MigrationList,
  SchemaEngine,
} from "@prisma/schema-engine-wasm";
import { Client } from "pg";
import { PROJECT } from "./project";
import { withEngine } from "./schema-engine";

/** One folder a migration, applied in the order of their names. */
export const MIGRATIONS = join(PROJECT, "prisma", "migrations");
const SCHEMA = join(PROJECT, "prisma", "schema.prisma");

/** Held while migrations run, so that servers that start at once line up. Any number no other lock uses. */
const LOCK = 7_202_611_251;

/** Oldest PostgreSQL that the migrations are written for. */
const OLDEST_MAJOR = 14;

/** Tables that others make and keep in the same database: never part of a comparison. */
const NO_FILTERS = { externalTables: [], externalEnums: [] };

/**
 * Brings one database to the newest migration. Safe to call from several servers at once.
 *
 * @param url connection string of an existing database
 * @returns names of the migrations applied now, oldest first
 * @throws Error when PostgreSQL is older than 14, or when the database's history does not fit the files
 */
export async function applyMigrations(url: string): Promise<readonly string[]> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    await requireVersion(client);
    await client.query("SELECT pg_advisory_lock($1)", [LOCK]);
    return await withEngine(url, readSchema(), applyWith);
  } finally {
    await client.end(); // the lock goes with the session
  }
}

async function applyWith(engine: SchemaEngine): Promise<readonly string[]> {
  const migrationsList = listMigrations();
  const history = await engine.diagnoseMigrationHistory({
    migrationsList,
    optInToShadowDatabase: false,
    filters: NO_FILTERS,
  });
  refuseForeignHistory(history);
  // A migration that failed, or was killed halfway, left nothing behind: each runs in one transaction.
  for (const migrationName of history.failedMigrationNames) {
    await engine.markMigrationRolledBack({ migrationName });
  }
  const applied = await engine.applyMigrations({ migrationsList, filters: NO_FILTERS });
  return applied.appliedMigrationNames;
}

async function requireVersion(client: Client): Promise<void> {
  const answer = await client.query<{ number: string; name: string }>(
    "SELECT current_setting('server_version_num') AS number, current_setting('server_version') AS name",
  );
  for (const { number, name } of answer.rows) refuseOld(Number(number), name);
}

/**
 * @param number as PostgreSQL counts its versions: 140005 is 14.5
 * @param name   as people know it
 * @throws Error before version 14
 */
export function refuseOld(number: number, name: string): void {
  if (number >= OLDEST_MAJOR * 10_000) return;
  throw new Error(`PostgreSQL ${name} is too old: version ${OLDEST_MAJOR} or later is needed.`);
}

function refuseForeignHistory(history: DiagnoseMigrationHistoryOutput): void {
  const edited = history.editedMigrationNames.filter(
    (name) => !history.failedMigrationNames.includes(name), // a failed one may be mended
  );
  if (edited.length > 0) {
    throw new Error(
      `The migration ${edited.join(", ")} was changed after this database took it. Migrations are append-only: undo the change and write a new one.`,
    );
  }
  if (history.history !== null && "unpersistedMigrationNames" in history.history) {
    const unknown = history.history.unpersistedMigrationNames;
    throw new Error(
      `This database holds the migration ${unknown.join(", ")}, which these files do not: it was used by a newer version. Start that version, or restore an older backup.`,
    );
  }
}

/**
 * The SQL that would take the migrations' result to schema.prisma; empty when they agree. What Prisma's schema cannot
 * say (triggers, checks, exclusion constraints, partial indexes) stands in the migrations alone and is no difference.
 *
 * @param serverUrl connection string with the right to make databases; a scratch database is made and dropped
 */
export async function schemaDifference(serverUrl: string): Promise<string> {
  return withScratchDatabase(serverUrl, async (url) => {
    await applyMigrations(url);
    return withEngine(url, readSchema(), async (engine) => {
      const schema = { path: SCHEMA, content: readSchema() };
      const answer = await engine.diff({
        from: { tag: "schemaDatasource", files: [schema], configDir: PROJECT },
        to: { tag: "schemaDatamodel", files: [schema] },
        script: true,
        exitCode: null,
        filters: NO_FILTERS,
      });
      const script = answer.stdout?.trim() ?? "";
      return script === "-- This is an empty migration." ? "" : script;
    });
  });
}

/** Runs `work` on an empty database of its own, which is dropped afterwards whatever happens. */
async function withScratchDatabase<T>(
  serverUrl: string,
  work: (url: string) => Promise<T>,
): Promise<T> {
  const name = `scratch_${randomBytes(6).toString("hex")}`;
  const client = new Client({ connectionString: serverUrl });
  await client.connect();
  try {
    await client.query(`CREATE DATABASE ${name} TEMPLATE template0`);
    const url = new URL(serverUrl);
    url.pathname = `/${name}`;
    return await work(url.toString());
  } finally {
    await client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`);
    await client.end();
  }
}

function readSchema(): string {
  return readFileSync(SCHEMA, "utf8");
}

function listMigrations(): MigrationList {
  const folders = readdirSync(MIGRATIONS, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
  const lockfile = join(MIGRATIONS, "migration_lock.toml");
  return {
    baseDir: MIGRATIONS,
    lockfile: {
      path: "migration_lock.toml",
      content: existsSync(lockfile) ? readFileSync(lockfile, "utf8") : null,
    },
    shadowDbInitScript: "",
    migrationDirectories: folders.map((folder) => ({
      path: folder,
      migrationFile: {
        path: "migration.sql",
        content: {
          tag: "ok",
          value: readFileSync(join(MIGRATIONS, folder, "migration.sql"), "utf8"),
        },
      },
    })),
  };
}
