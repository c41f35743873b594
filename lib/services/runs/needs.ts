import type { BookablePart, DipRow, StoredPlan, TankRow } from "@/lib/data";
import { continuousRating } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { mayGoIn, VERDICT_OUTCOMES } from "@/lib/treatment";
import { electricSupply } from "../tanks";

/** What a load of one or more parts asks of its tank. */
export type LoadPlan = {
  /** h under current until nine in ten such loads are done: the tank is held for it */
  readonly hours: number;
  readonly expectedCurrentA: number;
  readonly currentLowA: number;
  readonly currentHighA: number;
  readonly targetChargeAh: number;
  readonly dips: readonly {
    readonly partId: string;
    readonly planId: string;
    readonly end: number;
    readonly chargeShare: number;
  }[];
};

type Dipped = { readonly partId: string; readonly end: number; readonly plan: StoredPlan };

/** The end, 1 or 2, that a part goes in next. */
export function nextEnd(part: Pick<BookablePart, "plan" | "endsDone">): number {
  return part.plan && part.plan.dipCount > 1 && part.endsDone.includes(1) ? 2 : 1;
}

/**
 * Joins parts to one load: currents and charges add, the longest hours count, and each part bears the charge by its
 * area. Parts in one bath shade each other a little, which is left out: it makes the load slower, not hotter, and the
 * readings tell.
 */
export function loadPlan(dipped: readonly Dipped[]): LoadPlan {
  const sum = (value: (plan: StoredPlan) => number): number =>
    dipped.reduce((total, { plan }) => total + value(plan), 0);
  const areaM2 = sum((plan) => plan.areaM2 / plan.dipCount);
  return {
    hours: Math.max(...dipped.map(({ plan }) => plan.hoursP90 / plan.dipCount)),
    expectedCurrentA: sum((plan) => plan.currentA),
    currentLowA: sum((plan) => plan.result.currentA.low),
    currentHighA: sum((plan) => plan.result.currentA.high),
    targetChargeAh: sum((plan) => plan.chargeAh / plan.dipCount),
    dips: dipped.map(({ partId, end, plan }) => ({
      partId,
      planId: plan.id,
      end,
      chargeShare: plan.areaM2 / plan.dipCount / areaM2,
    })),
  };
}

/** The load of parts that wait for a tank. @throws Refusal conflict | invalid where one of them may not be booked */
export function loadOfParts(parts: readonly BookablePart[], tank: TankRow): LoadPlan {
  const load = loadPlan(
    parts.map((part) => ({ partId: part.id, end: nextEnd(part), plan: bookablePlan(part, tank) })),
  );
  checkSupplyCarries(load, parts.length, tank);
  return load;
}

/** The load of a run that is booked already. */
export function loadOfDips(dips: readonly DipRow[]): LoadPlan {
  return loadPlan(dips.map(({ partId, end, plan }) => ({ partId, end, plan })));
}

function bookablePlan(part: BookablePart, tank: TankRow): StoredPlan {
  const name = `Part ${part.mark} of job ${part.job.number}`;
  if (part.state !== "PLANNED" || !part.plan) {
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
function checkSupplyCarries(load: LoadPlan, parts: number, tank: TankRow): void {
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
