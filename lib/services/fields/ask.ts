import { type Actor, requirePermission } from "@/lib/access";
import {
  askPlanFieldAgain,
  type Db,
  type FieldRow,
  findPart,
  findPlanField,
  findTank,
  inTransaction,
  insertPlanField,
  listScenes,
  listTanks,
  type PartRow,
  reading,
  recordAudit,
  type SceneRow,
  type TankRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { FieldFindings, TreatmentPlan } from "@/lib/treatment";
import { requirePart } from "../intake/parts";
import { sceneKey } from "./scene-key";

/** Findings hold for another current or bath within this ratio: the shares of a part's faces then hardly move. */
const SAME_RATIO = 1.1;

export type Asked = {
  readonly part: Pick<PartRow, "id" | "mesh"> & SceneRow["part"];
  readonly tank: TankRow;
  readonly planId: string;
  readonly plan: TreatmentPlan;
  /** The field of the plan before this one. */
  readonly before: FieldRow | null;
};

/**
 * Asks for the field of a plan just made, in the plan's own transaction. Where the plan before it has findings of the
 * very same scene at about the same current, they are the new plan's at once.
 */
export async function askForField(db: Db, asked: Asked, now: Date): Promise<void> {
  const { part, tank, planId, plan, before } = asked;
  const key = sceneKey({ part, meshHash: part.mesh?.hash ?? null, tank, lie: plan.lie });
  const { findings, findingsKey } = before ?? { findings: null, findingsKey: null };
  const known = findings && findingsKey ? { findings, findingsKey } : undefined;
  const done =
    known?.findingsKey === key &&
    currentsOf(known.findings).some((currentA) => isNear(currentA, plan.currentA.mid)) &&
    isNear(known.findings.conductivitySPerM, plan.figures.conductivitySPerM.value);
  await insertPlanField(db, { planId, sceneKey: key, askedAt: now, known, done });
}

/** With nothing hung inside, and with each of what helps. */
const currentsOf = ({ planned, innerAnodes }: FieldFindings): readonly number[] =>
  [planned, ...innerAnodes].map(({ currentA }) => currentA);

const isNear = (one: number, other: number): boolean =>
  one / other < SAME_RATIO && other / one < SAME_RATIO;

/**
 * Asks anew for the field of every part still to go in whose tank, anode or shape is no longer what it was asked for,
 * and for that of plans from before there were fields. Cheap where nothing changed: it compares one text a part.
 *
 * @returns how many were asked for
 */
export async function askForChangedFields(now: Date): Promise<number> {
  // Each ask stands for itself: what changes meanwhile is announced, and compared again.
  return reading(async (db) => {
    const scenes = await listScenes(db);
    if (scenes.length === 0) return 0;
    const tanks = new Map((await listTanks(db)).map((tank) => [tank.id, tank]));
    let asked = 0;
    for (const scene of scenes) {
      const tank = tanks.get(scene.tankId);
      // Of a tank that is out of use nothing is worked out: the part must be planned anew.
      if (tank && (await askIfChanged(db, scene, tank, now))) asked += 1;
    }
    return asked;
  });
}

async function askIfChanged(db: Db, scene: SceneRow, tank: TankRow, now: Date): Promise<boolean> {
  const key = sceneKey({ ...scene, tank });
  if (scene.field?.sceneKey === key) return false;
  if (scene.field) {
    // Conditional: of several callers one asks, the others find it asked for.
    return askPlanFieldAgain(db, { id: scene.field.id, sceneKey: key, askedAt: now });
  }
  await insertPlanField(db, { planId: scene.planId, sceneKey: key, askedAt: now, done: false });
  return true;
}

/**
 * Has a field worked out again, after a failure or because somebody wants to see it done.
 *
 * @throws Refusal not-allowed | not-found | conflict where there is no plan, or it is being worked out already
 */
export async function askFieldAgain(actor: Actor, partId: string, now: Date): Promise<void> {
  requirePermission(actor, "decide");
  await inTransaction(async (db) => {
    const part = await requirePart(findPart(db, partId));
    const field = await findPlanField(db, partId);
    const tank = part.plan && (await findTank(db, part.plan.tankId));
    if (!part.plan || !tank || !field) throw new Refusal("conflict", "Plan the part first.");
    if (field.state === "WAITING" || field.state === "WORKING") {
      throw new Refusal("conflict", "It is being worked out already.");
    }
    const { lie } = part.plan.result;
    const key = sceneKey({ part, meshHash: part.mesh?.hash ?? null, tank, lie });
    await askPlanFieldAgain(db, { id: field.id, sceneKey: key, askedAt: now }, true);
    const note = { actor, at: now, subjectType: "part", subjectId: partId };
    await recordAudit(db, { ...note, action: "field.asked" });
  });
}
