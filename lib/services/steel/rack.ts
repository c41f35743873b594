import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  insertEntries,
  insertOffcuts,
  inTransaction,
  listLots,
  listRackOffcuts,
  lockLots,
  type LotRow,
  type OffcutRow,
  recordAudit,
  scrapOffcutRow,
  type SectionRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addQuantities, type CuttingProblem, drawOldestFirst, type StockBars } from "@/lib/stock";
import { requireSection, requireSteel } from "./section";

/** What lies of one delivery, oldest first: whole bars are what its ledger and its offcuts leave. */
export type LotOnRack = {
  readonly lot: LotRow;
  readonly offcuts: readonly OffcutRow[];
  readonly wholeBars: number;
  /** mm that are neither whole bars nor measured offcuts; below 0 where offcuts are longer than the ledger says */
  readonly unmeasuredMm: number;
};

/** The rack of an item as ledger and offcuts tell it. */
export async function rackOf(
  db: Db,
  section: SectionRow,
  lots: readonly LotRow[],
): Promise<readonly LotOnRack[]> {
  const offcuts = await listRackOffcuts(db, section.itemId);
  return lots.flatMap((lot): LotOnRack[] => {
    const own = offcuts.filter(({ lotId }) => lotId === lot.id);
    if (lot.onHand <= 0 && own.length === 0) return [];
    const besides = addQuantities([lot.onHand, ...own.map(({ lengthMm }) => -lengthMm)]);
    const wholeBars = Math.max(0, Math.floor(besides / section.stockLengthMm));
    return [
      {
        lot,
        offcuts: own,
        wholeBars,
        unmeasuredMm: addQuantities([besides, -wholeBars * section.stockLengthMm]),
      },
    ];
  });
}

/** The same without locks, to look at. */
export const seeRack = async (db: Db, section: SectionRow): Promise<readonly LotOnRack[]> =>
  rackOf(db, section, await listLots(db, section.itemId));

/** Bars for a cutting plan. A millimetre is worth what its delivery cost, where all of them cost something. */
export function barsOf(rack: readonly LotOnRack[], { stockLengthMm }: SectionRow): StockBars[] {
  const worths = rack.map(({ lot }) => (lot.onHand > 0 ? lot.valueMinor / lot.onHand : 0));
  const isAllPaid = worths.every((worth) => worth > 0);
  return rack.flatMap(({ offcuts, wholeBars, lot, unmeasuredMm }, index): StockBars[] => {
    if (unmeasuredMm < 0) return []; // ledger and rack disagree: nothing of it is sure
    const worthPerMm = isAllPaid ? (worths[index] ?? 1) : 1;
    const whole = { kind: "BAR", lengthMm: stockLengthMm, worthPerMm } as const;
    return [
      ...offcuts.map(
        ({ id, lengthMm }) => ({ id, kind: "OFFCUT", lengthMm, count: 1, worthPerMm }) as const,
      ),
      ...(wholeBars > 0 ? [{ ...whole, id: lot.id, count: wholeBars }] : []),
    ];
  });
}

/** The rack as a cutting problem. Ids are those of offcuts, and of lots for their whole bars. */
export const problemOf = (
  rack: readonly LotOnRack[],
  section: SectionRow,
  piece: { readonly lengthMm: number; readonly count: number },
): CuttingProblem => ({
  pieces: [{ lengthMm: piece.lengthMm, count: piece.count }],
  bars: barsOf(rack, section),
  kerfMm: section.kerfMm,
  leastOffcutMm: section.leastOffcutMm,
});

export type MeasuredOffcut = {
  /** also the offcut's id, so that a repeat is told */
  readonly id: string;
  readonly itemId: string;
  readonly lotId: string;
  /** mm, above 0, at most what its delivery has unmeasured */
  readonly lengthMm: number;
};

/**
 * Writes a length that lies on the rack: steel of the delivery that was in no whole bar. The ledger stays as it is.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function measureOffcut(
  actor: Actor,
  offcut: MeasuredOffcut,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    await requireSteel(db, offcut.itemId);
    const section = await requireSection(db, offcut.itemId);
    const rack = await rackOf(db, section, await lockLots(db, offcut.itemId));
    if (rack.some(({ offcuts }) => offcuts.some(({ id }) => id === offcut.id))) return; // a repeat
    const own = rack.find(({ lot }) => lot.id === offcut.lotId);
    if (!own) throw new Refusal("not-found", "Nothing is left of this delivery.");
    const most = addQuantities([own.unmeasuredMm, own.wholeBars * section.stockLengthMm]);
    if (!(offcut.lengthMm > 0 && offcut.lengthMm <= most)) {
      throw new Refusal("invalid", "So much of this delivery is not there besides its offcuts.", {
        lengthMm: `Above 0 and at most {${Math.max(0, most)} mm}. Count the item where more is there.`,
      });
    }
    await insertOffcuts(db, [{ ...offcut, at: now, enteredById: actor.personId }]);
    await audit(db, actor, now, "offcut.measured", offcut.itemId, { lengthMm: offcut.lengthMm });
  });
}

/**
 * Throws an offcut away: it is written off at its share of its delivery's cost. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function scrapOffcut(
  actor: Actor,
  { itemId, offcutId }: { readonly itemId: string; readonly offcutId: string },
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    await requireSteel(db, itemId);
    const lots = await lockLots(db, itemId);
    const offcut = (await listRackOffcuts(db, itemId)).find(({ id }) => id === offcutId);
    if (!offcut || !(await scrapOffcutRow(db, offcutId))) return; // gone already: a repeat
    const lot = lots.filter(({ id }) => id === offcut.lotId);
    const there = addQuantities(lot.map(({ onHand }) => onHand));
    const drawn = drawOldestFirst(lot, Math.min(offcut.lengthMm, there));
    await insertEntries(
      db,
      drawn.map(({ lotId, quantity, costMinor }) => ({
        itemId,
        lotId,
        at: now,
        kind: "SPOILED",
        quantity: -quantity,
        costMinor: -costMinor,
        note: "offcut scrapped",
        enteredById: actor.personId,
        idempotencyKey: `${offcutId}-scrapped`,
      })),
    );
    await audit(db, actor, now, "offcut.scrapped", itemId, { lengthMm: offcut.lengthMm });
  });
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, number>>,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "item", subjectId, detail });
}
