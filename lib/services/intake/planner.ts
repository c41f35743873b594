import { type Db, findShop, insertPlan, type PartRow, type TankRow } from "@/lib/data";
import type { SaltGrade } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import type { FieldFindings } from "@/lib/treatment";
import { planPart, type TankNotTaken, type TreatmentPlan } from "@/lib/treatment";
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
  const plan = (part: PartRow, wishes: PlanWishes): Planned => {
    const answer = sensible(() =>
      planPart({
        part: { ...part, fromDrawing: fromDrawing(part) },
        tanks: options.map((option, at) => ({
          ...option,
          field: wishes.field?.tankId === tanks[at]?.tank.id ? wishes.field?.findings : undefined,
        })),
        preferredTankId: wishes.tankId,
        innerAnode: wishes.innerAnode,
        learned: hoursFor(learned, part),
        workshop: { ...workshop, saltGrade: wishes.saltGrade },
      }),
    );
    if (!answer.planned) throw new Refusal("conflict", noTankWords(answer.notTaken));
    return { plan: answer.plan, tank: takenTank(answer.plan, wishes.tankId, tanks) };
  };
  return { tanks: tanks.map(({ tank }) => tank), plan };
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

/** Keeps a plan as the part's newest version. */
export async function keepPlan(
  db: Db,
  plan: TreatmentPlan,
  about: { readonly partId: string; readonly madeById: string; readonly madeAt: Date },
): Promise<{ readonly id: string; readonly version: number }> {
  const { figures } = plan;
  return insertPlan(db, {
    ...about,
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
  });
}
