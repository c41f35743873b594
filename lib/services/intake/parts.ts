import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  deletePart,
  findPart,
  inTransaction,
  insertPart,
  insertVerdict,
  isOffered,
  lockPart,
  marksOfJob,
  movePart,
  type PartInput,
  type PartRow,
  type PartState,
  reading,
  recordAudit,
  updatePart,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { decide, mayGoIn, type PartDescription, sizePart } from "@/lib/treatment";
import { sensible } from "../sensible";
import { requireState } from "./jobs";
import { nextMark } from "./marks";

/** States in which a part may still be changed: nothing is booked on what was said of it. */
export const CHANGEABLE: readonly PartState[] = ["TAKEN_IN", "PLANNED", "REFUSED"];

/** @throws Refusal not-allowed | not-found */
export async function partById(actor: Actor, id: string): Promise<PartRow> {
  requirePermission(actor, "see-shop");
  return reading((db) => requirePart(findPart(db, id)));
}

/**
 * Takes a part into an open job and decides at once whether it may go in the bath.
 *
 * @returns its id
 * @throws Refusal not-allowed | not-found | conflict | invalid
 */
export async function addPart(
  actor: Actor,
  jobId: string,
  part: PartInput,
  now: Date,
): Promise<string> {
  requirePermission(actor, "take-in");
  checkPart(part);
  return inTransaction(async (db) => {
    // The job's row lock gives parts that are added at the same moment different marks.
    await requireState(db, jobId, ["OPEN"]);
    const mark = nextMark(await marksOfJob(db, jobId));
    const id = await insertPart(db, { ...part, jobId, mark, createdAt: now });
    await judge(db, actor, id, part, now);
    await auditPart(db, actor, now, "part.taken-in", id);
    return id;
  });
}

/**
 * Changes what is said of a part; it is judged anew and its plan no longer counts.
 *
 * @throws Refusal not-allowed | not-found | conflict | invalid
 */
export async function changePart(
  actor: Actor,
  id: string,
  part: PartInput,
  now: Date,
): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    await requireChangeable(db, id);
    await writeAnew(db, actor, id, part, now);
  });
}

/** Writes what is said of a part that is locked and changeable, and judges it anew. @throws Refusal invalid */
export async function writeAnew(
  db: Db,
  actor: Actor,
  id: string,
  part: PartInput,
  now: Date,
): Promise<void> {
  checkPart(part);
  await updatePart(db, id, part);
  await movePart(db, id, CHANGEABLE, "TAKEN_IN");
  await judge(db, actor, id, part, now);
  await auditPart(db, actor, now, "part.changed", id);
}

/** What is said of a part, without what is known of it beside. */
export function saidOf(part: PartRow): PartInput {
  const { description, quantity, notes, shape, lengthMm, widthMm, heightMm, wallMm } = part;
  const { massG, areaOverrideM2, material, hardnessHrc, tensileMpa } = part;
  const { rustGrade, coatings, hazards, goal } = part;
  return {
    ...{ description, quantity, notes, shape, lengthMm, widthMm, heightMm, wallMm },
    ...{ massG, areaOverrideM2, material, hardnessHrc, tensileMpa },
    ...{ rustGrade, coatings, hazards, goal },
  };
}

/**
 * Removes a part that was taken in by mistake; refused once it has been in a tank or is on a quote that was sent.
 *
 * @returns id of its job
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function removePart(actor: Actor, id: string, now: Date): Promise<string> {
  requirePermission(actor, "take-in");
  return inTransaction(async (db) => {
    const part = await requireChangeable(db, id);
    if (part.dips.length > 0) {
      throw new Refusal("conflict", "This part has been in a tank: its history stays.");
    }
    if (await isOffered(db, id)) {
      throw new Refusal(
        "conflict",
        "This part is on a quote that the customer holds. Withdraw the quote, or hand the part back.",
      );
    }
    await deletePart(db, id);
    await auditPart(db, actor, now, "part.removed", id);
    return part.job.id;
  });
}

/** Decides on a part and writes the verdict down; a part that must not go in is refused. */
export async function judge(
  db: Db,
  actor: Actor,
  partId: string,
  part: PartDescription,
  now: Date,
): Promise<void> {
  const verdict = decide(part);
  await insertVerdict(db, {
    partId,
    decidedAt: now,
    decidedById: actor.personId,
    outcome: verdict.outcome,
    findings: verdict,
  });
  if (!mayGoIn(verdict.outcome)) await movePart(db, partId, ["TAKEN_IN"], "REFUSED");
}

/** @throws Refusal invalid, naming the measure that cannot be */
function checkPart(part: PartInput): void {
  sensible(() => sizePart(part));
  if (part.quantity < 1)
    throw new Refusal("invalid", "At least one piece.", { quantity: "1 or more." });
}

/** The part, locked, while nothing is booked on it. @throws Refusal not-found | conflict */
export async function requireChangeable(db: Db, id: string): Promise<PartRow> {
  const part = await requirePart(lockPart(db, id));
  if (part.job.state !== "OPEN") throw new Refusal("conflict", "The job is no longer open.");
  if (!CHANGEABLE.includes(part.state)) {
    throw new Refusal("conflict", "A run is booked on this part. Cancel the run first.");
  }
  return part;
}

/** @throws Refusal not-found */
export async function requirePart(found: Promise<PartRow | null>): Promise<PartRow> {
  const part = await found;
  if (!part) throw new Refusal("not-found", "There is no such part.");
  return part;
}

/** One line of a part's audit trail. */
export async function auditPart(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "part", subjectId });
}
