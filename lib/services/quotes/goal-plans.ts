/** What the parts of a quote ask for when something else is done to them than they are planned for. */
import { type Db, findPart, type PartRow, type QuotablePart } from "@/lib/data";
import { isRefusal, Refusal } from "@/lib/errors";
import type { Goal } from "@/lib/treatment";
import { currentFindings } from "../fields/current";
import { planColumns, type Planned, type Planner, plannerOf } from "../intake/planner";
import { gradeOf } from "../runs/other-tank";

/** Plans parts for other goals, reading tanks and what was learned once and only where a part needs it. */
export type GoalPlanner = {
  /**
   * The part as it would be with that goal; the same part where that is its goal already. Nothing is kept.
   *
   * @throws Refusal conflict where no tank takes it like that
   */
  partFor(part: QuotablePart, goal: Goal | null): Promise<QuotablePart>;
};

export function goalPlannerOf(db: Db): GoalPlanner {
  let planner: Promise<Planner> | undefined;
  const known = new Map<string, QuotablePart>();
  return {
    partFor: async (part, goal) => {
      if (goal === null || goal === part.goal || !part.plan) return part;
      const key = `${part.id} ${goal}`;
      const before = known.get(key);
      if (before) return before;
      planner ??= plannerOf(db);
      const row = await findPart(db, part.id);
      if (!row) throw new Refusal("not-found", "A part of this job is not in the shop any more.");
      const plan = await planOrSayWhose(db, await planner, row, goal);
      const made = { ...part, goal, plan: { version: part.plan.version, ...planColumns(plan) } };
      known.set(key, made);
      return made;
    },
  };
}

async function planOrSayWhose(db: Db, planner: Planner, part: PartRow, goal: Goal) {
  try {
    return (await planForGoal(db, planner, part, goal)).plan;
  } catch (error) {
    if (!isRefusal(error)) throw error;
    const aim = goal === "STRIP_TO_METAL" ? "stripping to metal" : "taking the rust off only";
    throw new Refusal(
      error.code,
      `Part ${part.mark} cannot be priced for ${aim}: ${error.message} Leave that option out.`,
    );
  }
}

/**
 * The plan of a part for another goal: in the tank that it is planned for where that takes it, else in the best.
 *
 * @throws Refusal conflict where no tank takes it
 */
export async function planForGoal(
  db: Db,
  planner: Planner,
  part: PartRow,
  goal: Goal,
): Promise<Planned> {
  const before = part.plan;
  const wanted = { ...part, goal };
  const wishes = {
    saltGrade: gradeOf(before?.saltGrade ?? ""),
    ...(before?.result.innerAnode && { innerAnode: true }),
    field: (await currentFindings(db, part.id, goal)) ?? undefined,
  };
  const tank = planner.tanks.find(({ id }) => id === before?.tankId);
  const there = tank && planner.planIn(wanted, tank.id, wishes);
  if (tank && there && typeof there !== "string") return { plan: there, tank };
  return planner.plan(wanted, wishes);
}
