import type { BookablePart, DipRow, PlanCore, StoredPlan, TankRow } from "@/lib/data";
import { continuousRating, operatingBand, type OperatingBand } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { highestLevel, volumeAt } from "@/lib/tanks";
import { cellOf, mayGoIn, VERDICT_OUTCOMES } from "@/lib/treatment";
import { millimetres } from "@/lib/units";
import { electricSupply, tankOption } from "../tanks";
import { fieldTimesOf } from "../tanks/field-times";
import type { BenchTimes } from "../working-hours";

/** What a load of one or more parts asks of its tank. */
export type LoadPlan = {
  /** h under current until nine in ten such loads are done: the tank is held for it */
  readonly hours: number;
  readonly expectedCurrentA: number;
  readonly currentLowA: number;
  readonly currentHighA: number;
  readonly targetChargeAh: number;
  /** area of the pieces that are done after this load, m²: what the bench has to finish at once */
  readonly finishAreaM2: number;
  readonly dips: readonly {
    readonly partId: string;
    readonly planId: string;
    readonly end: number;
    readonly chargeShare: number;
  }[];
};

/** A plan as far as a load is made up from it. */
export type PlanInLoad = Omit<PlanCore, "tankId" | "saltGrade" | "hoursP50">;

type Dipped = {
  readonly partId: string;
  readonly end: number;
  /** alike pieces, each of which the plan speaks of */
  readonly pieces: number;
  readonly plan: PlanInLoad;
};

/** The end that a part goes in next: the first that is neither done nor booked. */
export function nextEnd(part: Pick<BookablePart, "plan" | "endsDone" | "endsBooked">): number {
  const taken = new Set([...part.endsDone, ...part.endsBooked.map(({ end }) => end)]);
  const ends = Array.from({ length: part.plan?.dipCount ?? 1 }, (_, at) => at + 1);
  return ends.find((end) => !taken.has(end)) ?? 1;
}

/** Whether a part whose one end is booked, or in a tank, may be booked for the other too. */
export const otherEndWaits = ({ state, plan, endsDone, endsBooked }: BookablePart): boolean =>
  (state === "BOOKED" || state === "IN_BATH") &&
  plan !== null &&
  new Set([...endsDone, ...endsBooked.map(({ end }) => end)]).size < plan.dipCount;

/**
 * Joins parts to one load. Each piece bears the charge by its area, and charges add. Currents do not: pieces share the
 * way through the bath, so that together they draw less than the sum of what each would draw alone, and the load takes
 * longer in proportion.
 */
export function loadPlan(dipped: readonly Dipped[], tank: TankRow): LoadPlan {
  const sum = (value: (plan: PlanInLoad) => number): number =>
    dipped.reduce((total, { plan, pieces }) => total + pieces * value(plan), 0);
  const areaM2 = sum((plan) => plan.areaM2 / plan.dipCount);
  const alone = {
    low: sum((plan) => plan.result.currentA.low),
    mid: sum((plan) => plan.currentA),
    high: sum((plan) => plan.result.currentA.high),
  };
  const together = currentTogether(dipped, areaM2, tank) ?? alone;
  const currentA = {
    low: Math.min(alone.low, together.low),
    mid: Math.min(alone.mid, together.mid),
    high: Math.min(alone.high, together.high),
  };
  const longest = Math.max(...dipped.map(({ plan }) => plan.hoursP90 / plan.dipCount));
  return {
    hours: (longest * alone.mid) / currentA.mid,
    expectedCurrentA: currentA.mid,
    currentLowA: currentA.low,
    currentHighA: currentA.high,
    targetChargeAh: sum((plan) => plan.chargeAh / plan.dipCount),
    finishAreaM2: dipped
      .filter(({ end, plan }) => end >= plan.dipCount)
      .reduce((total, { plan, pieces }) => total + pieces * plan.areaM2, 0),
    dips: dipped.map(({ partId, end, pieces, plan }) => ({
      partId,
      planId: plan.id,
      end,
      chargeShare: (pieces * plan.areaM2) / plan.dipCount / areaM2,
    })),
  };
}

/** Hands needed at once after the pull, min: rinse, brush, dry, protect. */
export const benchMinutesOf = (
  { finishAreaM2 }: Pick<LoadPlan, "finishAreaM2">,
  { finishMinutesPerM2 }: Pick<BenchTimes, "finishMinutesPerM2">,
): number => finishMinutesPerM2 * finishAreaM2;

type Currents = { readonly low: number; readonly mid: number; readonly high: number };

/**
 * What several pieces draw in one bath, A: the operating point of the tank with the area of all of them, in the best
 * conducting of the baths they were planned with.
 *
 * @returns null for one piece, whose plan says it, and for a tank that has lost its anode or supply or cannot be filled
 */
function currentTogether(
  dipped: readonly Dipped[],
  areaM2: number,
  tank: TankRow,
): Currents | null {
  if (dipped.reduce((total, { pieces }) => total + pieces, 0) === 1) return null;
  const option = tankOption(tank);
  const { anode, supply, shape, workingLevelMm } = option;
  if (!anode || !supply || workingLevelMm > highestLevel(shape)) return null;
  const volumeL = volumeAt(shape, millimetres(workingLevelMm));
  const conductivities = dipped.map(({ plan }) => plan.result.figures.conductivitySPerM.value);
  const band: OperatingBand = operatingBand({
    ...cellOf({ ...option, anode, supply, fieldTimes: fieldTimesOf(dipped) }, areaM2, volumeL),
    conductivitySPerM: Math.max(...conductivities),
  });
  const { low, mid, high } = band;
  if (mid.currentA <= 0) return null;
  return { low: low.currentA, mid: mid.currentA, high: high.currentA };
}

/** The load of parts that wait for a tank. @throws Refusal conflict | invalid where one of them may not be booked */
export function loadOfParts(parts: readonly BookablePart[], tank: TankRow): LoadPlan {
  const load = loadPlan(
    parts.map((part) => ({
      partId: part.id,
      end: nextEnd(part),
      pieces: part.quantity,
      plan: bookablePlan(part, tank),
    })),
    tank,
  );
  checkSupplyCarries(load, parts.length, tank);
  return load;
}

/** The load of a run that is booked already. */
export function loadOfDips(dips: readonly DipRow[], tank: TankRow): LoadPlan {
  return loadPlan(
    dips.map(({ partId, end, plan, part }) => ({ partId, end, plan, pieces: part.quantity })),
    tank,
  );
}

export function bookablePlan(part: BookablePart, tank: TankRow): StoredPlan {
  const name = `Part ${part.mark} of job ${part.job.number}`;
  if (!part.plan || !(part.state === "PLANNED" || otherEndWaits(part))) {
    throw new Refusal("conflict", `${name} does not wait for a tank: ${stateWords(part)}.`);
  }
  if (part.job.state !== "OPEN") {
    throw new Refusal("conflict", `Job ${part.job.number} is not open any more.`);
  }
  const outcome = VERDICT_OUTCOMES.find((known) => known === part.verdict?.outcome);
  if (!part.verdict || !outcome || !(mayGoIn(outcome) || part.verdict.overruled)) {
    throw new Refusal("conflict", `${name} may not go into a bath. Look at its verdict.`);
  }
  if (part.plan.tankId !== tank.id) {
    throw new Refusal(
      "invalid",
      `${name} is planned for another tank. Plan it anew for ${tank.name}.`,
    );
  }
  return part.plan;
}

const stateWords = ({ state, plan }: BookablePart): string =>
  state === "BOOKED"
    ? "it is booked already"
    : plan
      ? `it is ${state.toLowerCase().replaceAll("_", " ")}`
      : "it has no plan yet";

/** One part alone was planned within the rating; several together may not be. */
export function checkSupplyCarries(load: LoadPlan, parts: number, tank: TankRow): void {
  if (!tank.supply) {
    throw new Refusal("conflict", `${tank.name} has no supply. Give it one first.`);
  }
  const rating = continuousRating(electricSupply(tank.supply));
  if (parts > 1 && load.expectedCurrentA > rating) {
    throw new Refusal(
      "invalid",
      `Together these parts draw about ${load.expectedCurrentA.toFixed(1)} A; ${tank.supply.name} carries ${rating.toFixed(1)} A all day. Leave one out.`,
    );
  }
}
