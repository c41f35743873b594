import { type Actor, may, requirePermission } from "@/lib/access";
import {
  correctLot,
  type Db,
  type EntryRow,
  findEntry,
  insertEntries,
  inTransaction,
  type ItemRow,
  type LedgerLine,
  listLedger,
  listStockCounts,
  lockLots,
  type LotRow,
  reading,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addQuantities, quantityText, roundQuantity } from "@/lib/stock";
import { takeStock } from "./consume";
import { requireItem } from "./items";

export type Correction = {
  readonly entryId: string;
  /** why: "typed a nought too many" */
  readonly reason: string;
  /** what it should have been; null where it should not be there at all */
  readonly right: RightLine | null;
};

export type RightLine = {
  /** in the item's unit, above 0 */
  readonly quantity: number;
  /** of a delivery, in whole minor units; null keeps what was written */
  readonly costMinor: number | null;
};

/** Kinds whose right line can be written along with the correction. */
const AMENDED: readonly EntryRow["kind"][] = ["RECEIVED", "USED", "SPOILED"];

/**
 * Corrects one line of the ledger by a new one with both signs turned, and writes the right line where one is given.
 * The new line keeps the kind, time, lot, run, job and tank of the wrong one, so that whatever was summed over the
 * wrong line is put right by summing again: costs of jobs, what a bath took, use by the week, value at an earlier day.
 *
 * A use written anew is drawn in turn, as it would be now, dated as the wrong one was. A delivery written anew stays in
 * its lot; what was taken from it since keeps the cost it went out at, and the difference falls on what is left, so
 * it is refused where that cannot bear it. A line is corrected once (unique index), and a correction never.
 *
 * An anode, a bath or a reading that was written along with the line is left as it is: only stock is put right.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict (corrected already, or what is left cannot bear it) |
 *   not-enough-stock (it would leave less than nothing)
 */
export async function correctEntry(
  actor: Actor,
  correction: Correction,
  now: Date,
): Promise<{ readonly itemId: string }> {
  requirePermission(actor, "keep-stock");
  return inTransaction(async (db) => {
    const first = await requireEntry(db, correction.entryId);
    const item = await requireItem(db, first.itemId);
    const lots = await lockLots(db, item.id);
    // Read again under the locks: who corrected it a moment ago has written by now.
    const entry = await requireEntry(db, correction.entryId);
    const lot = lots.find(({ id }) => id === entry.lotId);
    if (!lot) throw new Refusal("not-found", "This delivery is not one of this item.");
    checkCorrection(entry, correction);
    await writeCorrection(db, { actor, item, lot, entry, correction });
    await recordAudit(db, {
      actor,
      at: now,
      action: "entry.corrected",
      subjectType: "item",
      subjectId: item.id,
      detail: {
        entryId: entry.id,
        kind: entry.kind,
        was: entry.quantity,
        costMinor: entry.costMinor,
        reason: correction.reason,
        right: correction.right?.quantity ?? null,
      },
    });
    return { itemId: item.id };
  });
}

/** A line of an item's ledger, and the item. */
export type LineToCorrect = {
  readonly item: ItemRow;
  readonly line: LedgerLine;
  /** whether the right line can be written along with the correction */
  readonly amendable: boolean;
  /** when the item was last counted, where that was after the line: the count may have put the amount right already */
  readonly countedSince: Date | null;
};

/**
 * A line that may be corrected, as its page shows it.
 *
 * @throws Refusal not-allowed | not-found, also where it is a correction or was corrected
 */
export async function lineToCorrect(
  actor: Actor,
  itemId: string,
  entryId: string,
): Promise<LineToCorrect> {
  requirePermission(actor, "keep-stock");
  return reading(async (db) => {
    const item = await requireItem(db, itemId);
    const { lines } = await listLedger(db, { id: entryId, itemId }, { skip: 0, take: 1 });
    const [line] = lines;
    const { rows } = await listStockCounts(db, { itemId }, { skip: 0, take: 1 });
    const counted = rows[0]?.at ?? null;
    if (!line || line.correctsId !== null || line.corrected) {
      throw new Refusal("not-found", "This line is not there to be corrected.");
    }
    const seen = may(actor, "see-money") ? line : { ...line, costMinor: 0 };
    const countedSince = counted && counted > line.at ? counted : null;
    return { item, line: seen, amendable: AMENDED.includes(line.kind), countedSince };
  });
}

async function requireEntry(db: Db, entryId: string): Promise<EntryRow> {
  const entry = await findEntry(db, entryId);
  if (!entry) throw new Refusal("not-found", "This line is not in the ledger.");
  if (entry.correctsId) {
    throw new Refusal(
      "conflict",
      "This line is a correction itself. Write what really happened as a new line.",
    );
  }
  if (entry.corrected) throw new Refusal("conflict", "This line was corrected already.");
  return entry;
}

function checkCorrection(entry: EntryRow, { reason, right }: Correction): void {
  const fields: Record<string, string> = {};
  if (reason.trim() === "") fields["reason"] = "Say what was wrong.";
  if (right && !AMENDED.includes(entry.kind)) {
    fields["quantity"] = "Take this line out, then write what happened as a new one.";
  }
  if (right && !(roundQuantity(right.quantity) > 0)) fields["quantity"] = "Enter more than 0.";
  const cost = right?.costMinor ?? 0;
  if (!(Number.isSafeInteger(cost) && cost >= 0)) fields["cost"] = "Enter what it cost, 0 or more.";
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "This correction cannot be written like this.", fields);
  }
}

type Correcting = {
  readonly actor: Actor;
  readonly item: ItemRow;
  readonly lot: LotRow;
  readonly entry: EntryRow;
  readonly correction: Correction;
};

async function writeCorrection(db: Db, correcting: Correcting): Promise<void> {
  const { actor, item, lot, entry, correction } = correcting;
  const delivery = entry.kind === "RECEIVED" ? rightDelivery(correcting) : null;
  checkRoom(item, lot, entry, delivery);
  const same = {
    itemId: item.id,
    lotId: lot.id,
    at: entry.at,
    kind: entry.kind,
    enteredById: actor.personId,
  };
  if (delivery) {
    // In before out, so that the lot never falls below what was taken from it.
    const note = `right delivery: ${correction.reason}`;
    await insertEntries(db, [{ ...same, ...delivery, note }]);
    await correctLot(db, lot.id, delivery);
  }
  await insertEntries(db, [
    {
      ...same,
      quantity: -entry.quantity,
      costMinor: entry.costMinor === 0 ? 0 : -entry.costMinor,
      ...boundTo(entry),
      note: correction.reason.trim(),
      correctsId: entry.id,
    },
  ]);
  if (correction.right && (entry.kind === "USED" || entry.kind === "SPOILED")) {
    await takeStock(
      db,
      entry.kind,
      {
        itemId: item.id,
        quantity: correction.right.quantity,
        at: entry.at,
        ...boundTo(entry),
        note: entry.note,
        enteredById: actor.personId,
      },
      // What spoiled, spoiled in its own lot.
      entry.kind === "SPOILED" ? lot.id : undefined,
    );
  }
}

const boundTo = ({ runId, jobId, tankId }: EntryRow) => ({
  runId: runId ?? undefined,
  jobId: jobId ?? undefined,
  tankId: tankId ?? undefined,
});

function rightDelivery({ entry, correction: { right } }: Correcting) {
  if (!right) return null;
  return {
    quantity: roundQuantity(right.quantity),
    costMinor: right.costMinor ?? entry.costMinor,
  };
}

/** The lot must hold what goes out of it again, and what is left must be worth something or nothing, never less. */
function checkRoom(
  item: ItemRow,
  lot: LotRow,
  entry: EntryRow,
  delivery: { readonly quantity: number; readonly costMinor: number } | null,
): void {
  const left = addQuantities([lot.onHand, delivery?.quantity ?? 0, -entry.quantity]);
  if (left < 0) {
    const gone = addQuantities([entry.quantity, -lot.onHand]);
    throw new Refusal(
      "not-enough-stock",
      `${quantityText(gone, item.unit)} of this delivery are gone already, so that at least so much must have come. ` +
        "Correct what was taken from it first, or enter what really came.",
    );
  }
  const worth = lot.valueMinor + (delivery?.costMinor ?? 0) - entry.costMinor;
  if (worth < 0 || (left === 0 && worth !== 0)) {
    throw new Refusal(
      "conflict",
      "What was taken from this delivery went out at a cost that does not fit any more. Correct those lines first, " +
        "the newest before the older ones.",
    );
  }
}
