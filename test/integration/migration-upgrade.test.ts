/** What a shop had stored is still there, and still adds up, after the migrations that turn it round. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Client } from "pg";
import { describe, expect, inject, it } from "vitest";
import { MIGRATIONS } from "@/lib/setup/migrations";

const { serverUrl } = inject("postgres");

const names = readdirSync(MIGRATIONS, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name)
  .sort();
const OPTIONS = names.findIndex((name) => name.endsWith("_quote_options_and_rates"));

async function withClient(url: string, work: (client: Client) => Promise<void>): Promise<void> {
  const client = new Client({ connectionString: url });
  await client.connect();
  await work(client).finally(() => client.end());
}

/** Each in a transaction of its own, as the engine applies them. */
async function apply(client: Client, migrations: readonly string[]): Promise<void> {
  for (const name of migrations) {
    const sql = readFileSync(join(MIGRATIONS, name, "migration.sql"), "utf8");
    await client.query(`BEGIN; ${sql}; COMMIT;`);
  }
}

const ID = (last: number): string => `00000000-0000-4000-8000-${String(last).padStart(12, "0")}`;

/** A shop with a card, and a quote of two versions: one superseded, one accepted. */
const BEFORE = `
  INSERT INTO rate_card (id, valid_from, labour_per_hour_minor, tank_hour_minor, energy_per_kwh_minor, soda_per_kg_minor,
    anode_steel_per_kg_minor, disposal_per_litre_minor, consumables_per_part_minor, overhead_percent, margin_percent,
    minimum_charge_minor, rush_percent, tax_name, tax_percent)
  VALUES ('${ID(1)}', '2029-01-01', 4000, 100, 30, 200, 400, 10, 200, 15, 20, 3000, 25, 'VAT', 8.875);
  INSERT INTO person (id, email, name, role, password_hash, created_at)
  VALUES ('${ID(2)}', 'ada@example.org', 'Ada', 'OWNER', '!', now());
  INSERT INTO customer (id, name, created_at) VALUES ('${ID(3)}', 'Bo', now());
  INSERT INTO job (id, number, customer_id, taken_in_at, taken_in_by_id) VALUES ('${ID(4)}', 1, '${ID(3)}', now(), '${ID(2)}');
  INSERT INTO quote (id, number, job_id, created_at) VALUES ('${ID(5)}', 1, '${ID(4)}', now());
  INSERT INTO quote_version (id, quote_id, version, state, made_at, valid_until, currency, rush, discount_percent, net_minor,
    tax_minor, total_minor, tax_name, tax_percent, estimate)
  VALUES ('${ID(6)}', '${ID(5)}', 1, 'SUPERSEDED', now(), '2029-02-01', 'EUR', false, 0, 900, 80, 980, 'VAT', 8.875, '{}'),
         ('${ID(7)}', '${ID(5)}', 2, 'ACCEPTED', now(), '2029-02-01', 'EUR', true, 5, 1000, 89, 1089, 'VAT', 8.875,
          '{"priced": {"lowMinor": 1000, "highMinor": 1500}, "promises": []}');
  INSERT INTO quote_line (id, quote_version_id, position, label, net_minor, tax_minor)
  VALUES ('${ID(8)}', '${ID(6)}', 0, 'A: gate', 900, 80), ('${ID(9)}', '${ID(7)}', 0, 'A: gate', 700, 62),
         ('${ID(10)}', '${ID(7)}', 1, 'B: latch', 300, 27);`;

async function onServer(sql: string): Promise<void> {
  await withClient(serverUrl, async (client) => {
    await client.query(sql);
  });
}

async function upgraded(look: (client: Client) => Promise<void>): Promise<void> {
  await onServer("CREATE DATABASE upgraded");
  const url = new URL(serverUrl);
  url.pathname = "/upgraded";
  try {
    await withClient(url.toString(), async (client) => {
      await apply(client, names.slice(0, OPTIONS));
      await client.query(BEFORE);
      await apply(client, names.slice(OPTIONS));
      await look(client);
    });
  } finally {
    await onServer("DROP DATABASE upgraded WITH (FORCE)");
  }
}

describe("an upgraded shop", () => {
  it("has each version as one option with its lines, and its card with one way of taxing", async () => {
    await upgraded(async (client) => {
      const options = await client.query(`
        SELECT v.version, v.state, v.accepted_option_id = o.id AS accepted, o.name, o.rush, o.discount_percent AS discount,
               o.net_minor AS net, o.total_minor AS total, o.low_minor AS low, o.high_minor AS high,
               o.taxes -> 0 ->> 'percent' AS percent, count(l.id)::int AS lines, sum(l.net_minor)::int AS sum
          FROM quote_version v JOIN quote_option o ON o.quote_version_id = v.id
          JOIN quote_line l ON l.quote_option_id = o.id GROUP BY v.id, o.id ORDER BY v.version`);
      const same = { name: "As planned", percent: "8.875" };
      expect(options.rows).toEqual([
        {
          ...same,
          version: 1,
          state: "SUPERSEDED",
          accepted: null,
          rush: false,
          discount: 0,
          net: 900,
          total: 980,
          low: 980,
          high: 980,
          lines: 1,
          sum: 900,
        },
        {
          ...same,
          version: 2,
          state: "ACCEPTED",
          accepted: true,
          rush: true,
          discount: 5,
          net: 1000,
          total: 1089,
          low: 1000,
          high: 1500,
          lines: 2,
          sum: 1000,
        },
      ]);
      const cards = await client.query(`SELECT tax_rules FROM rate_card`);
      expect(cards.rows).toEqual([
        {
          tax_rules: [
            { code: "standard", label: "VAT as usual", taxes: [{ name: "VAT", percent: 8.875 }] },
            { code: "none", label: "Not taxed", taxes: [] },
          ],
        },
      ]);
    });
  });

  it("can no longer change what was sent, nor accept what was not offered", async () => {
    await upgraded(async (client) => {
      await expect(client.query(`UPDATE quote_line SET net_minor = 1`)).rejects.toThrow(/was sent/);
      await expect(client.query(`DELETE FROM quote_option`)).rejects.toThrow(/was sent/);
      await expect(
        client.query(`UPDATE quote_version SET accepted_option_id = NULL WHERE version = 2`),
      ).rejects.toThrow(/quote_version_accepted/);
      await expect(
        client.query(`UPDATE quote_version SET accepted_option_id = (
          SELECT o.id FROM quote_option o JOIN quote_version v ON v.id = o.quote_version_id WHERE v.version = 1)
          WHERE version = 2`),
      ).rejects.toThrow(/one of its own/);
    });
  });
});
