import type { Actor } from "@/lib/access";
import {
  type Db,
  type DipRow,
  findPart,
  type PartRow,
  type RunRow,
  type StoredPlan,
  type TankRow,
} from "@/lib/data";
import { SALT_GRADES, type SaltGrade } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { keepPlan, planColumns, type Planned, type Planner } from "../intake/planner";
import { checkHangs, layOut } from "./layout";
import { loadPlan, type LoadPlan } from "./needs";

/** A run's parts as another tank would take them. */
export type InOtherTank = {
  readonly load: LoadPlan;
  readonly planned: ReadonlyMap<string, Planned>;
};

/**
 * What a run asks of another tank: its parts are planned anew for it, nothing is kept.
 *
 * @param parts the run's parts, by id
 * @throws Refusal conflict | invalid where that tank does not take them, or takes them in another number of dips
 */
export function inOtherTank(
  run: Pick<RunRow, "dips">,
  tank: TankRow,
  planner: Planner,
  parts: ReadonlyMap<string, PartRow>,
): InOtherTank {
  const planned = new Map(
    run.dips.map((dip) => [dip.partId, planDip(dip, tank, planner, parts.get(dip.partId))]),
  );
  const dipped = run.dips.map((dip) => {
    const plan = planned.get(dip.partId)?.plan;
    if (!plan) throw new Refusal("not-found", "A part of this run is not in the shop.");
    return { dip, plan: storedFrom(dip, plan) };
  });
  const hung = dipped.map(({ dip, plan }) => ({ ...dip.part, plan }));
  checkHangs(layOut(hung, tank), tank, false);
  const load = loadPlan(
    dipped.map(({ dip, plan }) => ({
      partId: dip.partId,
      end: dip.end,
      pieces: dip.part.quantity,
      plan,
    })),
    tank,
  );
  return { load, planned };
}

function planDip(dip: DipRow, tank: TankRow, planner: Planner, part: PartRow | undefined): Planned {
  if (!part) throw new Refusal("not-found", "A part of this run is not in the shop.");
  if (dip.plan.dipCount > 1) {
    throw new Refusal(
      "conflict",
      `Part ${part.mark} goes in end for end: both ends go in one tank. Cancel its runs and plan it anew.`,
    );
  }
  const before = dip.plan.result;
  const planned = planner.plan(part, {
    saltGrade: gradeOf(before.saltGrade),
    tankId: tank.id,
    ...(before.innerAnode && { innerAnode: true }),
  });
  if (planned.plan.dips !== dip.plan.dipCount) {
    throw new Refusal(
      "conflict",
      `In ${tank.name} part ${part.mark} goes in ${planned.plan.dips} times, not ${dip.plan.dipCount}. Cancel the run and plan it anew.`,
    );
  }
  return planned;
}

export const gradeOf = (grade: string): SaltGrade =>
  SALT_GRADES.find((known) => known === grade) ?? "SODA_ASH_LIGHT";

/** A plan not kept yet, in the shape of one that is: under the old one's id until it has its own. */
const storedFrom = (dip: DipRow, plan: Planned["plan"]): StoredPlan => ({
  ...dip.plan,
  ...planColumns(plan),
});

/** Keeps the plans made for another tank. @returns the dips with their new plans' ids */
export async function keepPlans(
  db: Db,
  { load, planned }: InOtherTank,
  parts: ReadonlyMap<string, PartRow>,
  made: { readonly actor: Actor; readonly now: Date },
): Promise<LoadPlan["dips"]> {
  const ids = new Map<string, string>();
  for (const [partId, one] of planned) {
    const part = parts.get(partId);
    if (part) ids.set(partId, (await keepPlan(db, part, one, made)).id);
  }
  return load.dips.map((dip) => ({ ...dip, planId: ids.get(dip.partId) ?? dip.planId }));
}

/** The parts of runs, by id. */
export async function partsOf(
  db: Db,
  partIds: readonly string[],
): Promise<ReadonlyMap<string, PartRow>> {
  const parts = new Map<string, PartRow>();
  for (const id of new Set(partIds)) {
    const part = await findPart(db, id);
    if (part) parts.set(id, part);
  }
  return parts;
}
