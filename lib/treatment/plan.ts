import type { Lie, TankShape } from "@/lib/tanks";
import { type Candidate, currentSpread, rank, tryTank, whyNot, withHung } from "./candidate";
import { type PlanFigures, planFigures } from "./figures";
import { type HoursRange, sideHours, type SideHours, stretched, withInnerAnode } from "./hours";
import type { HoursLearned } from "./learned";
import { type PartDescription, type PartSize, sizePart } from "./part";
import { reliefBake, type ReliefBake } from "./relief-bake";
import { innerWords, type PlanStep, planSteps } from "./steps";
import type { TankOption, Workshop } from "./tank-option";
import { planWarnings } from "./warnings";

export type PlanRequest = {
  readonly part: PartDescription;
  readonly tanks: readonly TankOption[];
  readonly workshop: Workshop;
  /** The tank that somebody asked for; the planner's own choice when left out or when it does not do. */
  readonly preferredTankId?: string | undefined;
  /** What the shop's runs say of the hours of parts like this one; the model alone when left out. */
  readonly learned?: HoursLearned | undefined;
  /** Whether an anode is hung inside the part; not when left out. */
  readonly innerAnode?: boolean | undefined;
};

/** Why a tank is not the plan's, in words. */
export type TankNotTaken = { readonly tankId: string; readonly name: string; readonly why: string };

/** The plan of one part in one tank: plain data, stored with the part. */
export type TreatmentPlan = {
  readonly tankId: string;
  readonly tankName: string;
  /** The tank as it was planned with, for its drawing. */
  readonly shape: TankShape;
  readonly lie: Lie;
  readonly lieWords: string;
  readonly levelMm: number;
  readonly dips: number;
  readonly freshMix: boolean;
  readonly saltGrade: Workshop["saltGrade"];
  readonly figures: PlanFigures;
  readonly hours: HoursRange;
  /** Hours by the model alone, before learning; plans kept from before learning lack them: theirs are `hours`. */
  readonly modelHours?: HoursRange;
  /** Where an anode hung inside would help and none is planned; see `innerAnode`. */
  readonly hoursWithInnerAnode: HoursRange | null;
  /** What is hung inside, in words; null or missing where nothing is. */
  readonly innerAnode?: string | null;
  /** Cells of the field that current and hours rest on; missing where they rest on closed forms. */
  readonly fieldCells?: number;
  /** Shape length by the field over that by the closed form; missing as above. */
  readonly fieldTimes?: number;
  /** The band the readings are expected in, A. */
  readonly currentA: { readonly low: number; readonly mid: number; readonly high: number };
  readonly ratingShare: number;
  readonly reliefBake: ReliefBake | null;
  readonly warnings: readonly string[];
  readonly steps: readonly PlanStep[];
  readonly notTaken: readonly TankNotTaken[];
};

export type PlanAnswer =
  | { readonly planned: true; readonly plan: TreatmentPlan }
  | { readonly planned: false; readonly notTaken: readonly TankNotTaken[] };

/** Inside hours over outside hours from which an inner anode is worth hanging. */
const INNER_ANODE_FROM = 1.3;

/**
 * Plans the treatment of one part: the tank it fits, the bath, the current, the hours and what comes after.
 * The smallest bath that takes the part whole without overloading its supply is chosen.
 *
 * @throws RangeError naming a measure or setting that is out of range
 * @example planPart({ part, tanks, workshop: { temperatureC: 18, roomVolumeM3: 60, saltGrade: "SODA_ASH_LIGHT" } })
 */
export function planPart(request: PlanRequest): PlanAnswer {
  const size = sizePart(request.part);
  const candidates: Candidate[] = [];
  const notTaken: TankNotTaken[] = [];
  for (const tank of request.tanks) {
    const outcome = tryTank(tank, request.part, size, request.workshop);
    if (typeof outcome === "string")
      notTaken.push({ tankId: tank.id, name: tank.name, why: outcome });
    else candidates.push(outcome);
  }
  const ranked = [...candidates].sort((a, b) => rank(a) - rank(b));
  const chosen = ranked.find(({ tank }) => tank.id === request.preferredTankId) ?? ranked[0];
  if (!chosen) return { planned: false, notTaken };
  for (const other of ranked) {
    if (other !== chosen) {
      notTaken.push({ tankId: other.tank.id, name: other.tank.name, why: whyNot(other, chosen) });
    }
  }
  return { planned: true, plan: writePlan(request, size, chosen, notTaken) };
}

function writePlan(
  request: PlanRequest,
  bare: PartSize,
  plain: Candidate,
  notTaken: readonly TankNotTaken[],
): TreatmentPlan {
  const { part, workshop, learned } = request;
  const { chosen, size, modelHours, withInner } = hungOrNot(request, bare, plain);
  const { tank, band, dips, fit } = chosen;
  const learnt = learned?.range ?? ((model: HoursRange) => model);
  const hours = learnt(modelHours);
  const found = reliefBake(part.tensileMpa, part.hardnessHrc);
  const bake = found === "too strong" ? null : found;
  return {
    tankId: tank.id,
    tankName: tank.name,
    shape: tank.shape,
    lie: fit.lie,
    lieWords: fit.words,
    levelMm: chosen.levelMm,
    dips,
    freshMix: chosen.bath.freshMix,
    saltGrade: workshop.saltGrade,
    figures: planFigures({ part, size, chosen, workshop, hours, modelHours, learned }),
    hours,
    modelHours,
    hoursWithInnerAnode: withInner && learnt(withInner),
    ...hungInside(request, chosen),
    currentA: { low: band.low.currentA, mid: band.mid.currentA, high: band.high.currentA },
    ratingShare: band.mid.ratingShare,
    reliefBake: bake,
    warnings: planWarnings({ part, chosen, workshop, hours }),
    steps: planSteps({
      ...{ part, chosen, hours, bake, workshop },
      hangInside: request.innerAnode === true || withInner !== null,
    }),
    notTaken,
  };
}

/** What hangs inside, and whether the field was asked. */
function hungInside(
  { innerAnode, tanks }: PlanRequest,
  { seen, tank }: Candidate,
): Pick<TreatmentPlan, "innerAnode" | "fieldCells" | "fieldTimes"> {
  const field = tanks.find(({ id }) => id === tank.id)?.field;
  return {
    innerAnode: innerAnode ? innerWords(seen?.withInnerAnode) : null,
    ...(field && { fieldCells: field.cells }),
    ...(tank.fieldTimes !== undefined && { fieldTimes: tank.fieldTimes }),
  };
}

/** Hours by the model as asked for, and with an anode hung inside where that would help and is not asked for. */
function hungOrNot(
  { part, innerAnode }: PlanRequest,
  bare: PartSize,
  plain: Candidate,
): {
  readonly chosen: Candidate;
  readonly size: PartSize;
  readonly modelHours: HoursRange;
  readonly withInner: HoursRange | null;
} {
  const size: PartSize = { ...bare, seen: plain.seen };
  const without = hoursOfOneDip(part, size, plain);
  const hung = { chosen: withHung(plain), size: withInnerAnode(size) };
  const inner = hoursOfOneDip(part, hung.size, hung.chosen);
  if (innerAnode) {
    return { ...hung, modelHours: stretched(inner.worst, plain.dips), withInner: null };
  }
  // Where the field found nothing that helps, nothing is promised of it.
  const canHang = plain.seen === undefined || plain.seen.withInnerAnode !== null;
  const lags = without.inside !== null && without.worst.p50 > INNER_ANODE_FROM * inner.worst.p50;
  return {
    ...{ chosen: plain, size },
    modelHours: stretched(without.worst, plain.dips),
    withInner: canHang && lags ? stretched(inner.worst, plain.dips) : null,
  };
}

function hoursOfOneDip(
  part: PartDescription,
  hollow: PartSize,
  { band, wetAreaM2 }: Candidate,
): SideHours {
  return sideHours(part, band.mid.currentA, wetAreaM2, hollow, currentSpread(band));
}
