/** The example shop must be a shop that the services themselves could have made. */
import { beforeAll, describe, expect, it } from "vitest";
import { database } from "@/lib/data/client";
import { createSetupCode, openShop, seeOrdering, seeSuppliers, whatToBuy } from "@/lib/services";
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

  it("has bars and two offcuts on its rack, nothing unmeasured, and a leak that was patched", async () => {
    const { itemId, stockLengthMm } = await database().itemSection.findFirstOrThrow();
    const lots = await database().lot.findMany({
      where: { itemId },
      include: { offcuts: { where: { state: "RACK" } } },
    });
    const offcuts = lots.flatMap((lot) => lot.offcuts);
    expect(offcuts).toHaveLength(2);
    for (const lot of lots) {
      const cut = lot.offcuts.reduce((sum, { lengthMm }) => sum + lengthMm.toNumber(), 0);
      expect((lot.onHand.toNumber() - cut) % stockLengthMm).toBe(0);
    }
    const leak = await database().leak.findFirstOrThrow({ include: { patches: true } });
    expect(leak).toMatchObject({ state: "PATCHED", patches: [{ expiredReason: "" }] });
    expect(leak.patches[0]?.costMinor).toBeGreaterThan(0);
    expect(await database().epoxySheet.count()).toBe(1);
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
        SELECT o.id FROM quote_option o JOIN quote_line l ON l.quote_option_id = o.id
        GROUP BY o.id HAVING sum(l.net_minor) <> o.net_minor OR sum(l.tax_minor) <> o.tax_minor) t`;
    expect(rows[0]?.wrong).toBe(0);
  });

  it("was paid for most of what it did: one late, one in part, one with a credit", async () => {
    const rows = await database().$queryRaw<{ balance: number; paid: number; late: boolean }[]>`
      SELECT (sum(CASE d.kind WHEN 'STATEMENT' THEN d.total_minor ELSE -d.total_minor END)
               - COALESCE((SELECT sum(p.amount_minor) FROM payment p WHERE p.job_id = d.job_id), 0))::int AS balance,
             COALESCE((SELECT sum(p.amount_minor) FROM payment p WHERE p.job_id = d.job_id), 0)::int AS paid,
             min(d.due_on) < ${MONDAY}::date AS late
        FROM job_document d GROUP BY d.job_id`;
    const open = rows.filter(({ balance }) => balance !== 0);
    expect(open).toHaveLength(2);
    expect(open.filter(({ paid, late }) => paid === 0 && late)).toHaveLength(1);
    expect(open.filter(({ paid }) => paid > 0)).toHaveLength(1);
    expect(await database().jobDocument.count({ where: { kind: "CREDIT_NOTE" } })).toBe(1);
    const [numbers, counter] = await Promise.all([
      database().jobDocument.count({ where: { kind: "STATEMENT" } }),
      database().counter.findUniqueOrThrow({ where: { name: "statement" } }),
    ]);
    expect(numbers).toBeGreaterThan(20);
    expect(counter.value).toBe(numbers);
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

  it("was stocked by orders, from which lead times are learned, and has one on its way", async () => {
    const orders = await database().purchaseOrder.groupBy({ by: ["state"], _count: true });
    const count = (state: string) => orders.find((row) => row.state === state)?._count ?? 0;
    expect(count("ORDERED")).toBe(1);
    expect(count("RECEIVED")).toBeGreaterThanOrEqual(6);
    const owner = await database().person.findFirstOrThrow({ where: { role: "OWNER" } });
    const actor = { personId: owner.id, name: owner.name, role: owner.role };
    const suppliers = await seeSuppliers(actor, MONDAY);
    expect(suppliers.every(({ supplier, lead }) => supplier && lead.deliveries > 0)).toBe(true);
    const policies = await database().reorderPolicy.findMany();
    for (const { itemId } of policies) {
      expect((await seeOrdering(actor, itemId, MONDAY)).workedPoint?.value).toBeGreaterThan(0);
    }
    expect(policies).toHaveLength(2);
    expect((await whatToBuy(actor, MONDAY)).toBuy.length).toBeGreaterThan(0);
    const counter = await database().counter.findUniqueOrThrow({ where: { name: "purchase" } });
    expect(counter.value).toBe(await database().purchaseOrder.count());
  });

  it("has nobody in it who can sign in but the owner", async () => {
    const people = await database().person.findMany({ where: { disabledAt: null } });
    expect(people.map(({ role }) => role)).toEqual(["OWNER"]);
  });
});
