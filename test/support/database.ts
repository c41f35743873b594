/** Runs before each integration test file: a database of its own, cloned from the migrated one, dropped afterwards. */
import { randomBytes } from "node:crypto";
import { Client } from "pg";
import { afterAll, inject } from "vitest";
import { disconnect } from "@/lib/data";

const { serverUrl, template } = inject("postgres");
const name = `shop_test_${randomBytes(6).toString("hex")}`;

/** Runs one piece of SQL on the server, outside the test's database. */
async function onServer<Row extends object>(sql: string, values: string[] = []): Promise<Row[]> {
  const client = new Client({ connectionString: serverUrl });
  await client.connect();
  try {
    const answer = await client.query<Row>(sql, values);
    return answer.rows;
  } finally {
    await client.end();
  }
}

await onServer(`CREATE DATABASE ${name} TEMPLATE ${template}`);
const url = new URL(serverUrl);
url.pathname = `/${name}`;
// lib/data reads it when it first connects, which no import does.
process.env["DATABASE_URL"] = url.toString();

/** What a file that closed everything it opened may still show while PostgreSQL tidies up, ms. */
const GRACE_MS = 2000;

/** The last statement of each connection that is still open. */
async function openConnections(): Promise<string[]> {
  const giveUpAt = Date.now() + GRACE_MS;
  for (;;) {
    const rows = await onServer<{ query: string }>(
      "SELECT query FROM pg_stat_activity WHERE datname = $1",
      [name],
    );
    if (rows.length === 0 || Date.now() > giveUpAt) return rows.map((row) => row.query);
  }
}

afterAll(async () => {
  try {
    await disconnect();
    const open = await openConnections();
    if (open.length > 0) {
      throw new Error(`This file left ${String(open.length)} connections open: ${open.join("; ")}`);
    }
  } finally {
    await onServer(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`);
  }
});
