import { type Actor, requirePermission } from "@/lib/access";
import { type Db, type FieldRow, findPart, findPlanField, findTank, reading } from "@/lib/data";
import type { FieldFindings } from "@/lib/treatment";
import { sceneKey } from "./scene-key";

export type FieldOfPart = {
  readonly id: string;
  readonly state: FieldRow["state"];
  /** 0 to 1, while it is worked out */
  readonly progress: number;
  /** Why it failed; empty otherwise. */
  readonly why: string;
  readonly findings: FieldFindings | null;
  /** Whether the findings are of before a change of tank, anode or part. */
  readonly outdated: boolean;
  /** Whether the part is still to go in: only then it is worked out. */
  readonly wanted: boolean;
  /** Another one when the page has to be read anew. */
  readonly stamp: string;
};

/**
 * The field of a part's newest plan, as far as it is known.
 *
 * @returns null where there is no plan, or one whose field nobody has asked for yet
 * @throws Refusal not-allowed
 */
export async function fieldOfPart(actor: Actor, partId: string): Promise<FieldOfPart | null> {
  requirePermission(actor, "see-shop");
  return reading((db) => fieldNow(db, partId));
}

/** The same, for other services. */
export async function fieldNow(db: Db, partId: string): Promise<FieldOfPart | null> {
  const part = await findPart(db, partId);
  const field = await findPlanField(db, partId);
  if (!part?.plan || !field) return null;
  const tank = await findTank(db, part.plan.tankId);
  const { lie } = part.plan.result;
  const key = tank && sceneKey({ part, meshHash: part.mesh?.hash ?? null, tank, lie });
  const { id, state, progress, why, findings, findingsKey } = field;
  return {
    ...{ id, state, progress, why, findings },
    outdated: findings !== null && findingsKey !== key,
    stamp: stampOf(field),
    wanted: (part.state === "PLANNED" || part.state === "BOOKED") && part.job.state === "OPEN",
  };
}

const stampOf = ({ id, state, sceneKey: scene }: FieldRow): string =>
  `${id} ${state} ${scene.slice(0, 12)}`;

export type FieldProgress = Pick<FieldOfPart, "state" | "progress" | "stamp">;

/** How far it is: little enough to be asked twice a second. @throws Refusal not-allowed */
export async function fieldProgress(actor: Actor, partId: string): Promise<FieldProgress | null> {
  requirePermission(actor, "see-shop");
  const field = await reading((db) => findPlanField(db, partId));
  return field && { stamp: stampOf(field), state: field.state, progress: field.progress };
}
