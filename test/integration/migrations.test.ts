import { Client } from "pg";
import { describe, expect, inject, it } from "vitest";
import { applyMigrations, refuseOld, schemaDifference } from "@/lib/setup/migrations";

const { serverUrl } = inject("postgres");

async function onServer(sql: string): Promise<void> {
  const client = new Client({ connectionString: serverUrl });
  await client.connect();
  await client.query(sql).finally(() => client.end());
}

async function withDatabase(name: string, work: (url: string) => Promise<void>): Promise<void> {
  await onServer(`CREATE DATABASE ${name}`);
  const url = new URL(serverUrl);
  url.pathname = `/${name}`;
  try {
    await work(url.toString());
  } finally {
    await onServer(`DROP DATABASE ${name} WITH (FORCE)`);
  }
}

describe("migrations", () => {
  it("lead to exactly what schema.prisma describes", async () => {
    expect(await schemaDifference(serverUrl)).toBe("");
  });

  it("are applied once when several servers start at the same moment", async () => {
    await withDatabase("started_together", async (url) => {
      const applied = await Promise.all([1, 2, 3, 4].map(() => applyMigrations(url)));

      expect(applied.filter((names) => names.length > 0)).toHaveLength(1);
      expect(applied.flat()).toContain("20261125000100_guards");
    });
  });

  it("refuse a database that a newer version has used", async () => {
    await withDatabase("from_the_future", async (url) => {
      await applyMigrations(url);
      const client = new Client({ connectionString: url });
      await client.connect();
      await client.query(
        `UPDATE _prisma_migrations SET migration_name = '20991231000000_later' WHERE migration_name LIKE '%_guards'`,
      );
      await client.end();

      await expect(applyMigrations(url)).rejects.toThrow("20991231000000_later");
    });
  });

  it("take up again a migration whose start was killed", async () => {
    await withDatabase("killed_halfway", async (url) => {
      const client = new Client({ connectionString: url });
      await client.connect();
      await applyMigrations(url);
      // As a kill leaves it: the row is there, the end is not, and the transaction took everything back.
      await client.query(`DROP SCHEMA public CASCADE; CREATE SCHEMA public`);
      await client.query(
        `CREATE TABLE _prisma_migrations (id varchar(36) PRIMARY KEY, checksum varchar(64) NOT NULL,
           finished_at timestamptz, migration_name varchar(255) NOT NULL, logs text, rolled_back_at timestamptz,
           started_at timestamptz NOT NULL DEFAULT now(), applied_steps_count integer NOT NULL DEFAULT 0)`,
      );
      await client.query(
        `INSERT INTO _prisma_migrations (id, checksum, migration_name) VALUES ('1', 'x', '20261125000000_shop')`,
      );
      await client.end();

      expect(await applyMigrations(url)).toContain("20261125000000_shop");
    });
  });

  it("need PostgreSQL 14", () => {
    expect(() => refuseOld(130_022, "13.22")).toThrow("PostgreSQL 13.22 is too old");
    expect(() => refuseOld(140_000, "14.0")).not.toThrow();
  });
});
