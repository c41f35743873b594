import type { Lie, TankShape } from "@/lib/tanks";
import { type Candidate, currentSpread, rank, tryTank, whyNot } from "./candidate";
import { type PlanFigures, planFigures } from "./figures";
import { densities, faceHours, type HoursRange, INSIDE_LAG, later, stretched } from "./hours";
import { type PartDescription, type PartSize, sizePart } from "./part";
import { reliefBake, type ReliefBake } from "./relief-bake";
import { type PlanStep, planSteps } from "./steps";
import type { TankOption, Workshop } from "./tank-option";

export type PlanRequest = {
  readonly part: PartDescription;
  readonly tanks: readonly TankOption[];
  readonly workshop: Workshop;
  /** The tank that somebody asked for; the planner's own choice when left out or when it does not do. */
  readonly preferredTankId?: string | undefined;
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
  readonly hoursWithInnerAnode: HoursRange | null;
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
  size: PartSize,
  chosen: Candidate,
  notTaken: readonly TankNotTaken[],
): TreatmentPlan {
  const { part, workshop } = request;
  const { tank, band, dips, fit } = chosen;
  const one = hoursOfOneDip(part, size, chosen, false);
  const inner = hoursOfOneDip(part, size, chosen, true);
  const hours = stretched(one.worst, dips);
  const innerHelps = one.inside !== null && one.inside.p50 > INNER_ANODE_FROM * inner.worst.p50;
  const found = reliefBake(part.tensileMpa, part.hardnessHrc);
  const bake = found === "too strong" ? null : found;
  const warnings = planWarnings(chosen, workshop);
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
    figures: planFigures({ part, size, chosen, workshop, hours }),
    hours,
    hoursWithInnerAnode: innerHelps ? stretched(inner.worst, dips) : null,
    currentA: { low: band.low.currentA, mid: band.mid.currentA, high: band.high.currentA },
    ratingShare: band.mid.ratingShare,
    reliefBake: bake,
    warnings,
    steps: planSteps({ part, chosen, hours, innerHelps, bake, workshop }),
    notTaken,
  };
}

type DipHours = { readonly worst: HoursRange; readonly inside: HoursRange | null };

function hoursOfOneDip(
  part: PartDescription,
  size: PartSize,
  { band, wetAreaM2 }: Candidate,
  innerAnode: boolean,
): DipHours {
  const { outsideAPerM2, insideAPerM2 } = densities(
    band.mid.currentA,
    wetAreaM2,
    size.insideShare,
    innerAnode,
  );
  const spread = currentSpread(band);
  const outside = faceHours(part, outsideAPerM2, spread);
  if (insideAPerM2 === null) return { worst: outside, inside: null };
  // An inner anode lets the inside keep up; without one it lags by the shape's default.
  const inside = stretched(outside, innerAnode ? 1 : INSIDE_LAG);
  return { worst: later(outside, inside), inside };
}

function planWarnings({ band, bath }: Candidate, workshop: Workshop): string[] {
  const warnings: string[] = [];
  const { high, mid } = band;
  if (mid.ratingShare > 1) {
    warnings.push(
      `The supply would run at ${Math.round(mid.ratingShare * 100)} % of what it can carry all day: dilute the bath or shade the anode.`,
    );
  } else if (high.ratingShare > 1) {
    warnings.push(
      "With a fresh bright anode the supply may be overloaded at first: read the meter in the first half hour.",
    );
  }
  if (mid.partDensityAPerM2 > 50) {
    warnings.push("More than 50 A/m² on the part: mostly gas. A weaker bath does as well.");
  }
  if (mid.partDensityAPerM2 < 1) {
    warnings.push(
      "Less than 1 A/m² on the part: it will take very long. Check salt, leads and distance.",
    );
  }
  if (workshop.temperatureC < 5) {
    warnings.push("A cold bath conducts badly, and strong soda drops crystals near freezing.");
  }
  if (bath.waterToAddL >= 1) {
    warnings.push(
      `The bath stands low: fill up with about ${Math.round(bath.waterToAddL)} L of plain water before loading.`,
    );
  }
  if (bath.saltToAddG > 0 && !bath.freshMix) {
    warnings.push(`The bath is weak: add ${Math.round(bath.saltToAddG)} g before loading.`);
  }
  return warnings;
}
