import { type Actor, requirePermission } from "@/lib/access";
import { inTransaction, movePart, recordAudit, setPartGoal } from "@/lib/data";
import type { SaltGrade } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { type Goal, mayGoIn } from "@/lib/treatment";
import { currentFindings } from "../fields/current";
import { requireChangeable } from "./parts";
import { keepPlan, plannerOf } from "./planner";

export type PlanChoice = {
  readonly partId: string;
  readonly goal: Goal;
  readonly saltGrade: SaltGrade;
  /** undefined: the planner chooses */
  readonly tankId?: string | undefined;
  /** Whether an anode is hung inside the part; not when left out. */
  readonly innerAnode?: boolean | undefined;
};

/**
 * Plans the treatment of a part for the tanks as they stand now and keeps the plan as its newest version.
 *
 * @throws Refusal not-allowed | not-found | conflict where the verdict does not let it in or no tank does
 */
export async function makePlan(actor: Actor, choice: PlanChoice, now: Date): Promise<void> {
  requirePermission(actor, "decide");
  await inTransaction(async (db) => {
    const part = await requireChangeable(db, choice.partId);
    if (!part.verdict || !mayGoIn(part.verdict.outcome)) {
      throw new Refusal("conflict", "The verdict does not let this part into the bath.");
    }
    const wanted = { ...part, goal: choice.goal };
    const planner = await plannerOf(db);
    const current = await currentFindings(db, part.id, choice.goal);
    const planned = planner.plan(wanted, { ...choice, field: current ?? undefined });
    await setPartGoal(db, part.id, choice.goal);
    const { version } = await keepPlan(db, wanted, planned, { actor, now });
    await movePart(db, part.id, ["TAKEN_IN", "PLANNED"], "PLANNED");
    await recordAudit(db, {
      actor,
      at: now,
      action: "plan.made",
      subjectType: "part",
      subjectId: part.id,
      detail: { version, tank: planned.plan.tankName },
    });
  });
}
