import { type Db, findPart, findPlanField, findTank } from "@/lib/data";
import type { FieldFindings, Goal } from "@/lib/treatment";
import { sceneKey } from "./scene-key";

/** What the planner takes of a field. */
export type CurrentFindings = { readonly tankId: string; readonly findings: FieldFindings };

/**
 * What the field says of a part in the tank that it is planned for, as long as nothing that it rests on has changed.
 *
 * @param goal that a plan is about to be made for; the part's own when left out
 * @returns null where nothing is worked out yet, or what is no longer holds
 * @example (await currentFindings(db, partId))?.findings.shapeLengthM.value // m
 */
export async function currentFindings(
  db: Db,
  partId: string,
  goal?: Goal,
): Promise<CurrentFindings | null> {
  const part = await findPart(db, partId);
  const field = await findPlanField(db, partId);
  const plan = part?.plan;
  if (!part || !plan || !field?.findings) return null;
  const tank = await findTank(db, plan.tankId);
  if (!tank || tank.retiredAt) return null;
  const key = sceneKey({
    part: { ...part, goal: goal ?? part.goal },
    meshHash: part.mesh?.hash ?? null,
    tank,
    lie: plan.result.lie,
  });
  return field.findingsKey === key ? { tankId: plan.tankId, findings: field.findings } : null;
}
