import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  inTransaction,
  listDueBakes,
  lockPart,
  movePart,
  type PartState,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { auditPart, judge, requirePart } from "./parts";

/** States from which a part leaves with its job: nothing is booked on it and nothing is being done to it. */
export const MAY_LEAVE: readonly PartState[] = ["TAKEN_IN", "PLANNED", "FINISHED"];

/** States from which a part may be taken up again. */
const MAY_RETURN: readonly PartState[] = ["FINISHED", "HANDED_BACK"];

/**
 * Gives one part back before the rest of its job: finished, refused, or as it came.
 *
 * @throws Refusal not-allowed | not-found | conflict while it is booked, at work or not yet baked
 */
export async function handBackPart(actor: Actor, id: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    await requireOpen(db, id);
    // The count of the conditional change says whether it still may leave.
    if (!(await movePart(db, id, [...MAY_LEAVE, "REFUSED"], "HANDED_BACK"))) {
      throw new Refusal("conflict", "This part is booked or at work, or gone already.");
    }
    await requireBaked(db, [id]);
    await auditPart(db, actor, now, "part.handed-back", id);
  });
}

/**
 * Takes a part up again that was finished or handed back: it is judged anew and waits for a plan.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function takeBackPart(actor: Actor, id: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    const part = await requireOpen(db, id);
    if (!(await movePart(db, id, MAY_RETURN, "TAKEN_IN"))) {
      throw new Refusal("conflict", "This part is here already.");
    }
    await judge(db, actor, id, part, now);
    await auditPart(db, actor, now, "part.taken-back", id);
  });
}

/** The part, locked, while its job is open. @throws Refusal not-found | conflict */
async function requireOpen(db: Db, id: string) {
  const part = await requirePart(lockPart(db, id));
  if (part.job.state !== "OPEN") {
    throw new Refusal("conflict", "The job is no longer open. Take it up again first.");
  }
  return part;
}

/**
 * Steel that still holds the bath's hydrogen may crack in the customer's hands.
 *
 * @throws Refusal conflict while one of the parts waits for its relief bake or is in the oven
 */
export async function requireBaked(db: Db, partIds: readonly string[]): Promise<void> {
  const [due] = await listDueBakes(db, partIds);
  if (!due) return;
  const { mark, description } = due.part;
  throw new Refusal(
    "conflict",
    `Part ${mark}, ${description}, needs its relief bake before it leaves: record it on the page of its run.`,
  );
}
