/** What an accepted option changes in the shop: the job's rush, the parts' goals and plans. */
import {
  type Db,
  lockPart,
  type PartRow,
  type QuoteOptionRow,
  setPartGoal,
  updateJob,
} from "@/lib/data";
import { isRefusal } from "@/lib/errors";
import type { Goal } from "@/lib/treatment";
import { keepPlan, type Planner, plannerOf } from "../intake/planner";
import { planForGoal } from "./goal-plans";

/** What the shop should look at after an acceptance; marks of parts. */
export type TakenOn = {
  /** planned anew for what was accepted */
  readonly planned: readonly string[];
  /** of these, those that hold a tank already: what is booked rests on the plan before */
  readonly booked: readonly string[];
  /** could not be planned anew: no tank takes them like that, or they are in the bath or past it */
  readonly left: readonly string[];
};

/**
 * Makes the job what the customer accepted, in the acceptance's own transaction. Nothing here stops an acceptance: a
 * part that cannot be planned anew keeps its plan, and the shop is told.
 *
 * Locks the parts by id, each one before it is changed; the caller holds the job.
 */
export async function takeOnOption(
  db: Db,
  jobId: string,
  option: Pick<QuoteOptionRow, "goal" | "rush" | "lines">,
  now: Date,
): Promise<TakenOn> {
  if (option.rush) await updateJob(db, jobId, { rush: true });
  const taken = { planned: [] as string[], booked: [] as string[], left: [] as string[] };
  const { goal } = option;
  if (goal === null) return taken;
  const ids = new Set(option.lines.flatMap(({ partId }) => (partId === null ? [] : [partId])));
  let planner: Planner | undefined;
  for (const id of [...ids].sort()) {
    const part = await lockPart(db, id);
    if (!part || part.goal === goal) continue;
    planner ??= await plannerOf(db);
    const kept = await keepForGoal(db, planner, part, goal, now);
    (kept ? taken.planned : taken.left).push(part.mark);
    if (kept && part.state === "BOOKED") taken.booked.push(part.mark);
  }
  return taken;
}

/** What the shop should look at, in sentences; nothing where all is well. */
export function lookAtWords({ booked, left }: TakenOn): string {
  const bookings =
    booked.length > 0
      ? `Look at the booking of ${booked.join(", ")}: it rests on the plan before.`
      : "";
  const unplanned =
    left.length > 0
      ? `Not planned anew: ${left.join(", ")}. No tank takes it like that, or it is in the bath.`
      : "";
  return `${bookings} ${unplanned}`.trim();
}

/** States in which another plan still changes what is done. */
const STILL_TO_GO_IN: ReadonlySet<PartRow["state"]> = new Set(["TAKEN_IN", "PLANNED", "BOOKED"]);

/** @returns whether the part now has that goal and a plan for it */
async function keepForGoal(
  db: Db,
  planner: Planner,
  part: PartRow,
  goal: Goal,
  now: Date,
): Promise<boolean> {
  if (!part.plan || !STILL_TO_GO_IN.has(part.state)) return false;
  try {
    const planned = await planForGoal(db, planner, part, goal);
    await setPartGoal(db, part.id, goal);
    // The customer is nobody of the shop: the plan stands under the name of who planned the part before.
    const by = { actor: { personId: part.plan.madeById }, now };
    await keepPlan(db, { ...part, goal }, planned, by);
    return true;
  } catch (error) {
    // Only the planning refuses, before anything was written.
    if (!isRefusal(error)) throw error;
    return false;
  }
}
