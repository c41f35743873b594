import { type Actor, requirePermission } from "@/lib/access";
import { type Db, findJob, inTransaction, movePartsOfJob, updateJob } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { MAY_LEAVE, requireBaked } from "./hand-back";
import { auditJob, requireState } from "./jobs";

/** States in which a part keeps its job open. */
const AT_WORK: readonly string[] = ["BOOKED", "IN_BATH", "PULLED"];

/**
 * Hands all the parts back and closes the job. A part that is booked, at work or waits for its relief bake keeps it
 * open; a refused part stays marked as refused.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function closeJob(actor: Actor, id: string, now: Date): Promise<void> {
  await endJob(actor, id, "CLOSED", now);
}

/** Ends a job that will not be done; its parts go back as they are. @throws Refusal not-allowed | not-found | conflict */
export async function cancelJob(actor: Actor, id: string, now: Date): Promise<void> {
  await endJob(actor, id, "CANCELLED", now);
}

async function endJob(
  actor: Actor,
  id: string,
  state: "CLOSED" | "CANCELLED",
  now: Date,
): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    // The job's lock lines this up with parts being added.
    await requireState(db, id, ["OPEN"]);
    // The conditional change lines it up with bookings: one made at the same moment either was first, and is found
    // below, or finds its part gone.
    await movePartsOfJob(db, id, MAY_LEAVE, "HANDED_BACK");
    await requireNothingLeft(db, id);
    await updateJob(db, id, { state, closedAt: now });
    await auditJob(db, actor, now, state === "CLOSED" ? "job.closed" : "job.cancelled", id);
  });
}

async function requireNothingLeft(db: Db, jobId: string): Promise<void> {
  const { parts } = (await findJob(db, jobId)) ?? { parts: [] };
  const busy = parts.filter((part) => AT_WORK.includes(part.state));
  if (busy.length > 0) {
    const marks = busy.map((part) => part.mark).join(", ");
    throw new Refusal("conflict", `Still booked or at work: part ${marks}.`);
  }
  await requireBaked(
    db,
    parts.map(({ id }) => id),
  );
}

/**
 * Takes up a closed or cancelled job again. Its parts stay handed back until they are here again (`takeBackPart`).
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function reopenJob(actor: Actor, id: string, now: Date): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    await requireState(db, id, ["CLOSED", "CANCELLED"]);
    await updateJob(db, id, { state: "OPEN", closedAt: null });
    await auditJob(db, actor, now, "job.reopened", id);
  });
}
