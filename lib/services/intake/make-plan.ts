import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findPlanField,
  findShop,
  inTransaction,
  insertPlan,
  movePart,
  type PartRow,
  recordAudit,
  setPartGoal,
  type TankRow,
} from "@/lib/data";
import type { SaltGrade } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import {
  type Goal,
  mayGoIn,
  planPart,
  type TankNotTaken,
  type TreatmentPlan,
} from "@/lib/treatment";
import { askForField } from "../fields/ask";
import { currentFindings } from "../fields/current";
import { fromDrawing } from "../fields/from-drawing";
import { hoursFor, hoursHistory } from "../learning/hours";
import { learnTanks, measuredOf } from "../learning/tanks";
import { sensible } from "../sensible";
import { tankOption } from "../tanks/shape";
import { requireChangeable } from "./parts";

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
    const before = await findPlanField(db, part.id);
    const wanted = { ...part, goal: choice.goal };
    const { plan, tank } = await planNow(db, wanted, choice);
    await setPartGoal(db, part.id, choice.goal);
    const { id: planId, version } = await insertPlan(db, planColumns(plan, part.id, actor, now));
    await movePart(db, part.id, ["TAKEN_IN", "PLANNED"], "PLANNED");
    await askForField(db, { part: wanted, tank, planId, plan, before }, now);
    await recordAudit(db, {
      actor,
      at: now,
      action: "plan.made",
      subjectType: "part",
      subjectId: part.id,
      detail: { version, tank: plan.tankName },
    });
  });
}

type Planned = { readonly plan: TreatmentPlan; readonly tank: TankRow };

async function planNow(db: Db, part: PartRow, choice: PlanChoice): Promise<Planned> {
  // One after the other: a transaction is one connection.
  const tanks = await learnTanks(db);
  const { learned } = await hoursHistory(db);
  const shop = await findShop(db);
  const current = await currentFindings(db, part.id, part.goal);
  const answer = sensible(() =>
    planPart({
      part: { ...part, fromDrawing: fromDrawing(part) },
      tanks: tanks.map((one) => ({
        ...tankOption(one.tank),
        measured: measuredOf(one),
        field: current?.tankId === one.tank.id ? current.findings : undefined,
      })),
      preferredTankId: choice.tankId,
      innerAnode: choice.innerAnode,
      learned: hoursFor(learned, part),
      workshop: {
        temperatureC: shop?.workshopTempC ?? 18,
        roomVolumeM3: shop?.roomVolumeM3 ?? 60,
        humidityPercent: shop?.humidityPercent ?? 60,
        saltGrade: choice.saltGrade,
      },
    }),
  );
  if (!answer.planned) throw new Refusal("conflict", noTankWords(answer.notTaken));
  if (choice.tankId && answer.plan.tankId !== choice.tankId) {
    const why = answer.plan.notTaken.find(({ tankId }) => tankId === choice.tankId)?.why ?? "";
    throw new Refusal("conflict", `That tank does not do: ${why}`, { tankId: why });
  }
  const own = tanks.find(({ tank }) => tank.id === answer.plan.tankId);
  if (!own) throw new Error(`the plan's tank ${answer.plan.tankId} is none of those offered`);
  return { plan: answer.plan, tank: own.tank };
}

function noTankWords(notTaken: readonly TankNotTaken[]): string {
  if (notTaken.length === 0) return "There is no tank yet: add one under Tanks.";
  return `No tank takes it. ${notTaken.map(({ name, why }) => `${name}: ${why}`).join(" ")}`;
}

function planColumns(plan: TreatmentPlan, partId: string, actor: Actor, now: Date) {
  const { figures } = plan;
  return {
    partId,
    madeAt: now,
    madeById: actor.personId,
    tankId: plan.tankId,
    areaM2: figures.areaM2.value,
    solutionL: figures.solutionL.value,
    saltGrade: plan.saltGrade,
    saltG: figures.saltG.value,
    currentA: plan.currentA.mid,
    hoursP50: plan.hours.p50,
    hoursP90: plan.hours.p90,
    chargeAh: figures.chargeAh.value,
    anodeLossG: figures.anodeLossG.value,
    energyKwh: figures.energyKwh.value,
    dipCount: plan.dips,
    fieldTimes: plan.fieldTimes ?? null,
    result: plan,
  };
}
