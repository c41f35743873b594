/** One throwaway PostgreSQL for all integration tests, with a migrated database that test files clone. */
import type { TestProject } from "vitest/node";
import { Client } from "pg";
import { applyMigrations } from "../../lib/setup/migrations";
import { startTemporaryPostgres } from "../../lib/setup/temporary-postgres";

declare module "vitest" {
  interface ProvidedContext {
    /** Where test files make their databases, and what they clone. */
    postgres: { readonly serverUrl: string; readonly template: string };
  }
}

const TEMPLATE = "migrated_template";

/** Runs once before the first test file; what it returns runs after the last. */
export default async function startServer(project: TestProject): Promise<() => Promise<void>> {
  const server = await startTemporaryPostgres();
  try {
    const client = new Client({ connectionString: server.url("postgres") });
    await client.connect();
    await client.query(`CREATE DATABASE ${TEMPLATE}`);
    await client.end();
    await applyMigrations(server.url(TEMPLATE));
  } catch (error) {
    await server.stop();
    throw error;
  }
  project.provide("postgres", { serverUrl: server.url("postgres"), template: TEMPLATE });
  return server.stop;
}
