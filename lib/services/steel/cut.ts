import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  entriesUnderKey,
  findCut,
  giveBackOffcuts,
  insertCut,
  insertEntries,
  insertOffcuts,
  inTransaction,
  lockLots,
  type LotRow,
  moveCut,
  type NewEntry,
  recordAudit,
  takeBackOffcuts,
  useOffcuts,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import {
  addQuantities,
  checkCutting,
  type CutBar,
  cutBar,
  type CuttingProblem,
  drawOldestFirst,
  workedAnodeArea,
  workedAnodeMass,
} from "@/lib/stock";
import { type AnodeWish, piecesFor } from "./pieces";
import { wantedFor } from "./propose";
import { type LotOnRack, problemOf, rackOf } from "./rack";

/** One bar of the plan that a person saw: an offcut's id, or a lot's for one of its whole bars. */
export type BarToSaw = { readonly barId: string; readonly pieces: readonly number[] };

export type CutToMake = {
  readonly wish: AnodeWish;
  readonly bars: readonly BarToSaw[];
  /** what was said of the plan, kept beside it */
  readonly proof: string;
  /** also the cut's id, so that a repeat is told */
  readonly cutId: string;
};

/**
 * Saws the pieces of an anode: takes the steel out of stock by lot, chips and scrap included, and lays what is left
 * on the rack. Only the plan that was seen is cut: whether the rack still holds its bars is looked at under the lots'
 * locks, so that of two people who want the same bar one is told.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict where the rack has changed since
 */
export async function cutSteel(actor: Actor, cut: CutToMake, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const { tank, section } = await wantedFor(db, cut.wish);
    const pieces = piecesFor(section, tank, cut.wish);
    const lots = await lockLots(db, section.itemId);
    if (await findCut(db, cut.cutId)) return;
    const rack = await rackOf(db, section, lots);
    const problem = problemOf(rack, section, pieces);
    const bars = sawnBars(problem, cut.bars);
    const entries = entriesOf(lots, byLot(rack, bars), {
      itemId: section.itemId,
      at: now,
      tankId: tank.id,
      note: `cut for an anode in ${tank.name}`,
      enteredById: actor.personId,
    });
    const costMinor = entries.reduce((sum, entry) => sum - entry.costMinor, 0);
    await insertCut(db, {
      id: cut.cutId,
      itemId: section.itemId,
      tankId: tank.id,
      way: pieces.way,
      lengthMm: pieces.lengthMm,
      count: pieces.count,
      plan: { bars, proof: cut.proof },
      massG: workedAnodeMass(section, pieces).value,
      wettedAreaM2: workedAnodeArea(section, pieces).value,
      costMinor,
      at: now,
      cutById: actor.personId,
    });
    await moveSteel(db, cut.cutId, rack, bars, entries);
    await audit(db, actor, now, "steel.cut", cut.cutId, { costMinor, pieces: pieces.count });
  });
}

/** The plan as it can be sawn now. @throws Refusal conflict */
function sawnBars(problem: CuttingProblem, wanted: readonly BarToSaw[]): CutBar[] {
  const bars = wanted.flatMap(({ barId, pieces }) => {
    const bar = problem.bars.find(({ id }) => id === barId);
    const sawn = bar && cutBar(bar, pieces, problem);
    return sawn ? [sawn] : [];
  });
  if (bars.length !== wanted.length || checkCutting(problem, bars).length > 0) {
    throw new Refusal(
      "conflict",
      "The rack is not as it was when this was planned: somebody cut from it, or the measures changed. Plan the cut anew.",
    );
  }
  return bars;
}

/** mm taken by lot: pieces, chips and scrap. */
function byLot(rack: readonly LotOnRack[], bars: readonly CutBar[]): ReadonlyMap<string, number> {
  const taken = new Map<string, number>();
  for (const { barId, lengthMm, offcutMm } of bars) {
    const lotId = lotOfBar(rack, barId);
    taken.set(lotId, addQuantities([taken.get(lotId) ?? 0, lengthMm, -offcutMm]));
  }
  return taken;
}

function lotOfBar(rack: readonly LotOnRack[], barId: string): string {
  const own = rack.find(({ offcuts }) => offcuts.some(({ id }) => id === barId));
  return own?.lot.id ?? barId;
}

function entriesOf(
  lots: readonly LotRow[],
  taken: ReadonlyMap<string, number>,
  common: Pick<NewEntry, "itemId" | "at" | "tankId" | "note" | "enteredById">,
): NewEntry[] {
  return lots.flatMap((lot) =>
    drawOldestFirst([lot], taken.get(lot.id) ?? 0).map(({ lotId, quantity, costMinor }) => ({
      ...common,
      lotId,
      kind: "USED" as const,
      quantity: -quantity,
      costMinor: -costMinor,
    })),
  );
}

async function moveSteel(
  db: Db,
  cutId: string,
  rack: readonly LotOnRack[],
  bars: readonly CutBar[],
  entries: readonly NewEntry[],
): Promise<void> {
  const onRack = new Set(rack.flatMap(({ offcuts }) => offcuts.map(({ id }) => id)));
  const used = bars.filter(({ barId }) => onRack.has(barId)).map(({ barId }) => barId);
  if (!(await useOffcuts(db, used, cutId))) {
    throw new Refusal("conflict", "One of these offcuts is gone from the rack. Plan the cut anew.");
  }
  await insertEntries(
    db,
    entries.map((entry, index) => ({ ...entry, idempotencyKey: `${cutId}#${index}` })),
  );
  const [first] = entries;
  if (!first) return;
  await insertOffcuts(
    db,
    bars
      .filter(({ offcutMm }) => offcutMm > 0)
      .map(({ barId, offcutMm }) => ({
        itemId: first.itemId,
        lotId: lotOfBar(rack, barId),
        lengthMm: offcutMm,
        at: first.at,
        enteredById: first.enteredById,
        bornOfId: cutId,
      })),
  );
}

/**
 * Takes a cut back that was only planned after all: nothing was hung yet and what it left lies on the rack. The steel
 * is in stock again, at what it had cost. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function undoCut(actor: Actor, cutId: string, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const cut = await findCut(db, cutId);
    if (!cut) throw new Refusal("not-found", "This cut was never made.");
    await lockLots(db, cut.itemId);
    if (!(await moveCut(db, cutId, { state: "UNDONE" }))) {
      if ((await findCut(db, cutId))?.state === "UNDONE") return;
      throw new Refusal("conflict", "These pieces hang in a tank already.");
    }
    if (!(await takeBackOffcuts(db, cutId))) {
      throw new Refusal("conflict", "What this cut left has been used or scrapped since.");
    }
    const taken = await entriesUnderKey(db, cutId);
    await insertEntries(
      db,
      taken.map(({ lotId, quantity, costMinor }, index) => ({
        itemId: cut.itemId,
        lotId,
        at: now,
        kind: "RETURNED",
        quantity: -quantity,
        costMinor: -costMinor,
        tankId: cut.tankId,
        note: "cut taken back",
        enteredById: actor.personId,
        idempotencyKey: `${cutId}-undone#${index}`,
      })),
    );
    await giveBackOffcuts(db, cutId);
    await audit(db, actor, now, "steel.cut-undone", cutId, { costMinor: cut.costMinor });
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
  await recordAudit(db, { actor, at, action, subjectType: "cut", subjectId, detail });
}
