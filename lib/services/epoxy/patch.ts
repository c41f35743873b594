import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  type EpoxySheetRow,
  findEpoxySheet,
  hasPatch,
  insertHold,
  insertPatch,
  inTransaction,
  type ItemRow,
  listHolds,
  lockLots,
  setLeakState,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { cureAt, quantityText } from "@/lib/stock";
import { calendarDay } from "../calendar";
import { sensible } from "../sensible";
import { takeStock } from "../stock";
import { auditLeak, lockedLeak } from "./leaks";
import { type EpoxyLot, goodLots, requireEpoxy, workshopOf } from "./sheet";

const HOUR_MS = 3_600_000;

export type Patching = {
  readonly leakId: string;
  readonly itemId: string;
  /** of which delivery; null for the oldest that is good and holds enough */
  readonly lotId: string | null;
  /** both parts together, in the item's unit, above 0 */
  readonly quantity: number;
  /** °C at the tank; null for the workshop's */
  readonly temperatureC: number | null;
  /** why a delivery past its last good day is taken all the same; empty where it is not */
  readonly expiredReason: string;
  readonly note: string;
  /** also the patch's id, so that a repeat is told */
  readonly patchId: string;
};

/**
 * Patches a leak: the epoxy leaves stock, and until it has set the tank takes neither bath nor load, which the database
 * decides. The board shows the tank as held until then. Refused while the tank is wet or a load is booked in that time.
 *
 * @returns until when it sets
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy | not-enough-stock
 */
export async function patchLeak(actor: Actor, patch: Patching, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const { tankId, state, place } = await lockedLeak(db, patch.leakId);
    if (await hasPatch(db, patch.patchId)) return;
    if (state === "CLOSED") {
      throw new Refusal("conflict", "This leak is closed. Open it again where it leaks.");
    }
    const item = await requireEpoxy(db, patch.itemId);
    const { sheet, lot } = await goodLot(db, item, patch, now);
    const temperatureC = patch.temperatureC ?? (await workshopOf(db)).workshopC;
    const cureHours = sensible(() => cureAt(sheet, temperatureC)).value;
    const cureUntil = new Date(now.getTime() + cureHours * HOUR_MS);
    const { costMinor } = await takeStock(
      db,
      "USED",
      {
        itemId: item.id,
        quantity: patch.quantity,
        at: now,
        tankId,
        note: `patch: ${place}`,
        enteredById: actor.personId,
        idempotencyKey: patch.patchId,
      },
      lot.lot.id,
    );
    await insertPatch(db, {
      id: patch.patchId,
      leakId: patch.leakId,
      tankId,
      at: now,
      patchedById: actor.personId,
      itemId: item.id,
      lotId: lot.lot.id,
      quantity: patch.quantity,
      costMinor,
      cureUntil,
      expiredReason: lot.isExpired ? patch.expiredReason.trim() : "",
      note: patch.note,
    });
    await setLeakState(db, patch.leakId, { state: "PATCHED", closedAt: null, closedById: null });
    await holdWhileSetting(db, actor, tankId, patch.patchId, { from: now, until: cureUntil });
    await auditLeak(db, actor, now, "leak.patched", patch.leakId, { quantity: patch.quantity });
  });
}

async function goodLot(
  db: Db,
  item: ItemRow,
  { lotId, quantity, expiredReason }: Patching,
  now: Date,
): Promise<{ readonly sheet: EpoxySheetRow; readonly lot: EpoxyLot }> {
  if (!(quantity > 0)) {
    throw new Refusal("invalid", "Take more than nothing.", { quantity: "Enter more than 0." });
  }
  const sheet = await findEpoxySheet(db, item.id);
  if (!sheet) {
    throw new Refusal("conflict", "Copy the maker's sheet first: how long it sets is not known.");
  }
  const today = calendarDay(now, (await workshopOf(db)).timeZone);
  const lots = goodLots(await lockLots(db, item.id), sheet, today);
  const isChosen = (each: EpoxyLot): boolean => (lotId ? each.lot.id === lotId : !each.isExpired);
  const lot = lots.filter(isChosen).find(({ lot: { onHand } }) => onHand >= quantity);
  if (!lot) throw noLot(item, lots.filter(isChosen), lots, quantity);
  if (lot.isExpired && expiredReason.trim() === "") {
    throw new Refusal("invalid", "This delivery is past its last good day: it may never set.", {
      expiredReason: "Take another delivery, or say why this one will do.",
    });
  }
  return { sheet, lot };
}

function noLot(
  item: ItemRow,
  chosen: readonly EpoxyLot[],
  all: readonly EpoxyLot[],
  quantity: number,
): Refusal {
  const most = Math.max(0, ...chosen.map(({ lot }) => lot.onHand));
  const past = all.some(({ isExpired }) => isExpired)
    ? " What is past its last good day does not count; choose it by hand, with a reason, where it must be."
    : "";
  return new Refusal(
    "not-enough-stock",
    `One mix comes from one delivery, and none holds ${quantityText(quantity, item.unit)} of ${item.name}: ${quantityText(most, item.unit)} at most.${past}`,
    { quantity: `At most ${quantityText(most, item.unit)}.` },
  );
}

/** Holds what is not held already, so that other work that is booked may stay. */
async function holdWhileSetting(
  db: Db,
  actor: Actor,
  tankId: string,
  patchId: string,
  span: { readonly from: Date; readonly until: Date },
): Promise<void> {
  const held = (await listHolds(db, span, { tankId })).filter(({ state }) => state === "PLANNED");
  const ends = [...held.map(({ startsAt }) => startsAt), span.until];
  let from = span.from;
  for (const [index, endsAt] of ends.entries()) {
    if (endsAt > from) {
      await insertHold(db, {
        tankId,
        kind: "MAINTENANCE",
        startsAt: from,
        endsAt,
        note: "A patch sets",
        createdById: actor.personId,
        idempotencyKey: `${patchId}-hold-${index}`,
      });
    }
    const next = held[index]?.endsAt;
    if (next && next > from) from = next;
  }
}
