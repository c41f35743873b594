import { type Actor, requirePermission } from "@/lib/access";
import {
  changeHold,
  type Db,
  findHoldByKey,
  findTank,
  type HoldKind,
  type HoldRow,
  insertHold,
  inTransaction,
  lockHold,
  reading,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";

const DAY_MS = 86_400_000;
/** Longer than this a tank is out of use rather than worked on. */
const MOST_DAYS = 62;

export type NewHold = {
  readonly tankId: string;
  readonly kind: HoldKind;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly note: string;
  readonly idempotencyKey: string;
};

/**
 * Books other work on a tank: a change of its bath or anode, or maintenance. No load is booked in that time. Charge that
 * is booked after a change counts on the new bath or anode. A repeat under the same key gets the first one.
 *
 * That no load is booked at the same time, whoever comes first, is the database's to decide (`hold_beside_runs`).
 *
 * @throws Refusal not-allowed | not-found | invalid | tank-busy
 */
export async function holdTank(
  actor: Actor,
  hold: NewHold,
  now: Date,
): Promise<{ readonly holdId: string }> {
  requirePermission(actor, "book");
  checkSpan(hold);
  try {
    return await inTransaction((db) => writeHold(db, actor, hold, now));
  } catch (error) {
    // Two repeats at once: the loser finds what the winner wrote.
    const first = await reading((db) => findHoldByKey(db, hold.idempotencyKey));
    if (first) return { holdId: first.id };
    throw error;
  }
}

async function writeHold(
  db: Db,
  actor: Actor,
  hold: NewHold,
  now: Date,
): Promise<{ readonly holdId: string }> {
  const first = await findHoldByKey(db, hold.idempotencyKey);
  if (first) return { holdId: first.id };
  const tank = await findTank(db, hold.tankId);
  if (!tank || tank.retiredAt) throw new Refusal("not-found", "This tank is not in use.");
  const holdId = await insertHold(db, { ...hold, createdById: actor.personId });
  await audit(db, actor, now, "hold.booked", holdId, { kind: hold.kind, tank: tank.name });
  return { holdId };
}

/** Work as a person saw it, and as it is to be. */
export type HoldMove = {
  readonly holdId: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly note: string;
  /** the work as the person saw it: refused when it was changed since */
  readonly sequence?: number | undefined;
};

/**
 * Gives other work another time. Refused where later loads count on a change that is put off past them.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy
 */
export async function moveHold(actor: Actor, move: HoldMove, now: Date): Promise<void> {
  requirePermission(actor, "book");
  checkSpan(move);
  await inTransaction(async (db) => {
    const hold = await requireHold(db, move.holdId);
    if (move.sequence !== undefined && move.sequence !== hold.sequence) {
      throw new Refusal("conflict", "Somebody changed this work a moment ago. Look at it again.");
    }
    const { startsAt, endsAt, note } = move;
    if (!(await changeHold(db, hold.id, { startsAt, endsAt, note }))) throw over();
    await audit(db, actor, now, "hold.moved", hold.id, { from: hold.startsAt.toISOString() });
  });
}

/**
 * Says that work is done, or gives it up. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found | conflict where loads after it count on the change
 */
export async function endHold(
  actor: Actor,
  { holdId, state }: { readonly holdId: string; readonly state: "DONE" | "CANCELLED" },
  now: Date,
): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const hold = await requireHold(db, holdId);
    if (hold.state === state) return;
    if (!(await changeHold(db, hold.id, { state }))) throw over();
    await audit(db, actor, now, state === "DONE" ? "hold.done" : "hold.cancelled", hold.id);
  });
}

async function requireHold(db: Db, holdId: string): Promise<HoldRow> {
  const hold = await lockHold(db, holdId);
  if (!hold) throw new Refusal("not-found", "This work is not in the shop.");
  return hold;
}

const over = (): Refusal => new Refusal("conflict", "This work is over, or was given up.");

function checkSpan({ startsAt, endsAt }: Pick<NewHold, "startsAt" | "endsAt">): void {
  const lastsMs = endsAt.getTime() - startsAt.getTime();
  if (!(lastsMs > 0)) {
    throw new Refusal("invalid", "Work on a tank ends after it begins.", {
      endsAt: "Choose a later end.",
    });
  }
  if (lastsMs > MOST_DAYS * DAY_MS) {
    throw new Refusal(
      "invalid",
      `Work on a tank lasts ${MOST_DAYS} days at the most. Take the tank out of use instead.`,
      { endsAt: "Choose an earlier end." },
    );
  }
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, string>> = {},
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "tank-hold", subjectId, detail });
}
