import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findBookableParts,
  findRunByKey,
  findTank,
  insertRun,
  lockParts,
  inTransaction,
  movePartStates,
  nextNumber,
  reading,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkHangs, layOut } from "./layout";
import { loadOfParts } from "./needs";
import { checkStartFree, chosenSlot } from "./time";

export type NewBooking = {
  /** one or more parts that are planned for the tank */
  readonly partIds: readonly string[];
  readonly tankId: string;
  /** when loading begins; the end follows from the plan and the opening hours */
  readonly startsAt: Date;
  readonly notes: string;
  /** somebody laid the parts out and saw that they fit, where no arrangement was found */
  readonly laidOut?: boolean;
  readonly idempotencyKey: string;
};

export type Booked = { readonly runId: string; readonly number: number };

/**
 * Books a tank for one load. The tank is held from loading to the end of pulling.
 *
 * Of callers who want one tank at the same time, the exclusion constraint `run_tank_free` lets exactly one in. Of callers
 * who book one part twice, the conditional change of the part's state lets one in. A repeat under the same key gets the
 * first booking.
 *
 * Every piece of every part must hang clear in the tank. Where that is not possible nobody may book it; where no way was
 * found, a person who laid the load out may say that it fits, and the audit trail keeps that.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy
 */
export async function bookRun(actor: Actor, booking: NewBooking, now: Date): Promise<Booked> {
  requirePermission(actor, "book");
  if (booking.partIds.length === 0) throw new Refusal("invalid", "Choose a part to put in.");
  try {
    return await inTransaction((db) => writeBooking(db, actor, booking, now));
  } catch (error) {
    // Two repeats at once: the loser finds what the winner wrote.
    const first = await reading((db) => findRunByKey(db, booking.idempotencyKey));
    if (first) return { runId: first.id, number: first.number };
    throw error;
  }
}

/** Writes a booking in the caller's transaction: alone, or as one of several changes made together. */
export async function writeBooking(
  db: Db,
  actor: Actor,
  booking: NewBooking & { readonly together?: boolean },
  now: Date,
): Promise<Booked> {
  const first = await findRunByKey(db, booking.idempotencyKey);
  if (first) return { runId: first.id, number: first.number };
  if (!booking.together) await checkStartFree(db, booking, now);
  const tank = await findTank(db, booking.tankId);
  if (!tank || tank.retiredAt) throw new Refusal("not-found", "This tank is not in use.");
  const partIds = [...new Set(booking.partIds)];
  // Under this lock nobody books the other end of a part at the same time.
  await lockParts(db, partIds);
  const parts = await findBookableParts(db, partIds);
  if (parts.length !== partIds.length) throw new Refusal("not-found", "A part is not in the shop.");
  const { hours, finishAreaM2, ...load } = loadOfParts(parts, tank);
  const overruled = checkHangs(layOut(parts, tank), tank, booking.laidOut ?? false);
  const { tankId, startsAt } = booking;
  const chosen = { tankId, startsAt, load: { hours, finishAreaM2 }, together: booking.together };
  const slot = await chosenSlot(db, chosen, now);
  const waiting = parts.filter(({ state }) => state === "PLANNED").map(({ id }) => id);
  if ((await movePartStates(db, waiting, "PLANNED", "BOOKED")) !== waiting.length) {
    throw new Refusal("conflict", "Somebody booked one of these parts a moment ago.");
  }
  const number = await nextNumber(db, "run");
  const runId = await insertRun(db, {
    ...load,
    number,
    tankId: tank.id,
    supplyId: tank.supplyId,
    treatHours: hours,
    benchMinutes: slot.benchMinutes,
    startsAt: new Date(slot.startsAtMs),
    endsAt: new Date(slot.endsAtMs),
    bookedAt: now,
    notes: booking.notes,
    idempotencyKey: booking.idempotencyKey,
  });
  const detail = {
    number,
    tank: tank.name,
    parts: partIds.length,
    pieces: parts.reduce((sum, { quantity }) => sum + quantity, 0),
    laidOutByHand: overruled !== null,
    ...(overruled !== null && { doubt: overruled }),
  };
  const subject = { subjectType: "run", subjectId: runId };
  await recordAudit(db, { actor, at: now, action: "run.booked", ...subject, detail });
  return { runId, number };
}
