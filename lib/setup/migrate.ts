/** `npm run migrate:new -- NAME` and `npm run migrate:check`. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { MIGRATIONS, schemaDifference } from "./migrations";
import { startTemporaryPostgres } from "./temporary-postgres";

/** The SQL from the migrations' result to the schema, found on a server of its own. */
async function difference(): Promise<string> {
  const server = await startTemporaryPostgres();
  try {
    return await schemaDifference(server.url("postgres"));
  } finally {
    await server.stop();
  }
}

/** Migrations are applied in the order of their names, which begin with the moment they were written (UTC). */
function folderName(name: string, now: Date): string {
  const stamp = now.toISOString().replace(/\D/g, "").slice(0, 14);
  return `${stamp}_${name}`;
}

async function writeNew(given: string | undefined): Promise<void> {
  const name = (given ?? "").toLowerCase().replace(/[\s-]+/g, "_");
  if (!/^[a-z][a-z0-9_]*$/.test(name)) {
    throw new Error("Name the migration: npm run migrate:new -- what_changes");
  }
  const sql = await difference();
  if (sql === "") {
    console.log("Nothing changed: the migrations already lead to schema.prisma.");
    return;
  }
  const folder = join(MIGRATIONS, folderName(name, new Date()));
  mkdirSync(folder);
  writeFileSync(join(folder, "migration.sql"), `${sql}\n`);
  console.log(`Wrote ${join(folder, "migration.sql")}. Read it before you commit it.`);
}

async function check(): Promise<void> {
  const sql = await difference();
  if (sql !== "") {
    throw new Error(
      `The migrations do not lead to schema.prisma. Missing (npm run migrate:new writes it):\n\n${sql}`,
    );
  }
  console.log("The migrations lead to schema.prisma.");
}

try {
  const [command, name] = process.argv.slice(2);
  if (command === "new") await writeNew(name);
  else if (command === "check") await check();
  else throw new Error("Usage: migrate.ts new NAME | check");
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
