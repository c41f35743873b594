import type { Actor } from "@/lib/access";
import {
  type Db,
  findPlanField,
  findShop,
  insertPlan,
  type PartRow,
  type TankRow,
} from "@/lib/data";
import type { SaltGrade } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import type { FieldFindings } from "@/lib/treatment";
import { planPart, type TankNotTaken, type TreatmentPlan } from "@/lib/treatment";
import { askForField } from "../fields/ask";
import { fromDrawing } from "../fields/from-drawing";
import { hoursFor, hoursHistory } from "../learning/hours";
import { type LearnedTank, learnTanks, measuredOf } from "../learning/tanks";
import { sensible } from "../sensible";
import { tankOption } from "../tanks/shape";

export type PlanWishes = {
  readonly saltGrade: SaltGrade;
  /** undefined: the planner chooses */
  readonly tankId?: string | undefined;
  /** Whether an anode is hung inside the part; not when left out. */
  readonly innerAnode?: boolean | undefined;
  /** what the field of this part said, and of which tank */
  readonly field?: { readonly tankId: string; readonly findings: FieldFindings } | undefined;
};

export type Planned = { readonly plan: TreatmentPlan; readonly tank: TankRow };

/** The planner with the tanks, what the shop learned, and the workshop, read once: for one plan or for hundreds. */
export type Planner = {
  readonly tanks: readonly TankRow[];
  /** @throws Refusal conflict where no tank takes the part, or not the wished one; invalid where a measure is off */
  plan(part: PartRow, wishes: PlanWishes): Planned;
  /** what one tank would make of a part, without a look at the others; in words why it does not take it */
  planIn(part: PartRow, tankId: string, wishes: Omit<PlanWishes, "tankId">): TreatmentPlan | string;
};

export async function plannerOf(db: Db): Promise<Planner> {
  // One after the other: a transaction is one connection.
  const tanks = await learnTanks(db);
  const { learned } = await hoursHistory(db);
  const shop = await findShop(db);
  const workshop = {
    temperatureC: shop?.workshopTempC ?? 18,
    roomVolumeM3: shop?.roomVolumeM3 ?? 60,
    humidityPercent: shop?.humidityPercent ?? 60,
  };
  const options = tanks.map((one) => ({ ...tankOption(one.tank), measured: measuredOf(one) }));
  const answerOf = (part: PartRow, wishes: PlanWishes, among: typeof options) =>
    sensible(() =>
      planPart({
        part: { ...part, fromDrawing: fromDrawing(part) },
        tanks: among.map((option) => ({
          ...option,
          field: wishes.field?.tankId === option.id ? wishes.field.findings : undefined,
        })),
        preferredTankId: wishes.tankId,
        innerAnode: wishes.innerAnode,
        learned: hoursFor(learned, part),
        workshop: { ...workshop, saltGrade: wishes.saltGrade },
      }),
    );
  return {
    tanks: tanks.map(({ tank }) => tank),
    plan: (part, wishes) => {
      const answer = answerOf(part, wishes, options);
      if (!answer.planned) throw new Refusal("conflict", noTankWords(answer.notTaken));
      return { plan: answer.plan, tank: takenTank(answer.plan, wishes.tankId, tanks) };
    },
    planIn: (part, tankId, wishes) => {
      const own = options.filter(({ id }) => id === tankId);
      const answer = answerOf(part, { ...wishes, tankId }, own);
      return answer.planned ? answer.plan : (answer.notTaken[0]?.why ?? "It is not in use.");
    },
  };
}

function takenTank(
  plan: TreatmentPlan,
  wishedId: string | undefined,
  tanks: readonly LearnedTank[],
): TankRow {
  if (wishedId && plan.tankId !== wishedId) {
    const why = plan.notTaken.find(({ tankId }) => tankId === wishedId)?.why ?? "";
    throw new Refusal("conflict", `That tank does not do: ${why}`, { tankId: why });
  }
  const own = tanks.find(({ tank }) => tank.id === plan.tankId);
  if (!own) throw new Error(`the plan's tank ${plan.tankId} is none of those offered`);
  return own.tank;
}

function noTankWords(notTaken: readonly TankNotTaken[]): string {
  if (notTaken.length === 0) return "There is no tank yet: add one under Tanks.";
  return `No tank takes it. ${notTaken.map(({ name, why }) => `${name}: ${why}`).join(" ")}`;
}

/** A plan as its row has it, but for whose it is. */
export function planColumns(plan: TreatmentPlan) {
  const { figures } = plan;
  return {
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

/**
 * Keeps a plan as the part's newest version, and asks for its field.
 *
 * @param by `actor` is whose plan it is; where a customer's answer made it, who had planned the part before
 */
export async function keepPlan(
  db: Db,
  part: PartRow,
  { plan, tank }: Planned,
  { actor, now }: { readonly actor: Pick<Actor, "personId">; readonly now: Date },
): Promise<{ readonly id: string; readonly version: number }> {
  const before = await findPlanField(db, part.id);
  const about = { partId: part.id, madeById: actor.personId, madeAt: now };
  const kept = await insertPlan(db, { ...about, ...planColumns(plan) });
  await askForField(db, { part, tank, planId: kept.id, plan, before }, now);
  return kept;
}
