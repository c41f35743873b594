/** The example shop must be a shop that the services themselves could have made. */
import { beforeAll, describe, expect, it } from "vitest";
import { database } from "@/lib/data/client";
import { createSetupCode, openShop } from "@/lib/services";
import { later, MONDAY, newShop } from "../support/people";
import { brokenStockRules } from "../support/stock-rules";

beforeAll(async () => {
  const code = (await createSetupCode(MONDAY)) ?? "";
  await openShop(newShop(code, { contents: "EXAMPLE" }), MONDAY);
});

describe("the example shop", () => {
  it("has six months of work, tanks of several shapes, and something in hand", async () => {
    const kinds = await database().tank.groupBy({ by: ["kind"] });
    expect(kinds.map(({ kind }) => kind).sort()).toEqual(["MEASURED", "ROUND", "TAPERED_BOX"]);
    expect(await database().tank.count()).toBeGreaterThanOrEqual(4);
    expect(await database().run.count({ where: { state: "FINISHED" } })).toBeGreaterThan(50);
    const first = await database().job.findFirstOrThrow({ orderBy: { takenInAt: "asc" } });
    expect(first.takenInAt.getTime()).toBeLessThan(later(-160 * 86_400_000).getTime());
    expect(await database().job.count({ where: { state: "OPEN" } })).toBeGreaterThan(0);
  });

  it("keeps the ledger and the lots equal, and none below zero", async () => {
    const rows = await database().$queryRaw<{ wrong: number }[]>`
      SELECT count(*)::int AS wrong FROM (
        SELECT l.id FROM lot l JOIN ledger_entry e ON e.lot_id = l.id
        GROUP BY l.id HAVING sum(e.quantity) <> l.on_hand OR l.on_hand < 0) t`;
    expect(rows[0]?.wrong).toBe(0);
  });

  it("keeps every rule of the ledger, and shows a line that was put right and counts", async () => {
    expect(await brokenStockRules()).toEqual([]);
    expect(await database().ledgerEntry.count({ where: { correctsId: { not: null } } })).toBe(1);
    const late = await database().ledgerEntry.count({ where: { writtenAt: { gt: MONDAY } } });
    expect(late).toBe(0);
    const counts = await database().stockCount.findMany();
    expect(counts.length).toBeGreaterThan(0);
    for (const { counted, expected } of counts) expect(counted).toEqual(expected);
  });

  it("adds up: every quote's lines are its totals", async () => {
    const rows = await database().$queryRaw<{ wrong: number }[]>`
      SELECT count(*)::int AS wrong FROM (
        SELECT v.id FROM quote_version v JOIN quote_line l ON l.quote_version_id = v.id
        GROUP BY v.id HAVING sum(l.net_minor) <> v.net_minor OR sum(l.tax_minor) <> v.tax_minor) t`;
    expect(rows[0]?.wrong).toBe(0);
  });

  it("has each part in the state its runs say", async () => {
    const running = await database().run.findMany({
      where: { state: "RUNNING" },
      include: { dips: { include: { part: true } } },
    });
    for (const run of running) {
      for (const dip of run.dips) expect(dip.part.state).toBe("IN_BATH");
    }
    const stray = await database().part.count({
      where: { state: { in: ["BOOKED", "IN_BATH"] }, dips: { none: {} } },
    });
    expect(stray).toBe(0);
  });

  it("goes on numbering where the history ends", async () => {
    const [jobs, counter] = await Promise.all([
      database().job.aggregate({ _max: { number: true } }),
      database().counter.findUniqueOrThrow({ where: { name: "job" } }),
    ]);
    expect(counter.value).toBe(jobs._max.number);
  });

  it("has nobody in it who can sign in but the owner", async () => {
    const people = await database().person.findMany({ where: { disabledAt: null } });
    expect(people.map(({ role }) => role)).toEqual(["OWNER"]);
  });
});
