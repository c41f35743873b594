import type { Worked, WorkedInput } from "@/lib/units";
import type { CountedShare } from "./coverage";
import { type ClassHours, type LearnedHours, type Range, USUAL_SPREAD } from "./hours";
import { Z90 } from "./normal";
import type { LearnedResistance } from "./tank-resistance";
import type { LearnedLossFactor, LossFactor } from "./weighings";

/**
 * The factor by which the next part of a class will differ from the model's hours, P10 to P90, with its working.
 *
 * @param name of the class: "boxes, tubes and pans with rust (grade C)"
 * @example workedFactor("plates with rust", learned.of("FACES RUST")).value // 1.16
 */
export function workedFactor(name: string, hours: ClassHours): Worked {
  const at = (p: number): number => Math.exp(hours.quantile(p, USUAL_SPREAD));
  return {
    name: `${name}: hours over the model's`,
    value: at(0.5),
    low: at(0.1),
    high: at(0.9),
    unit: "× model",
    formula: "log(needed / model) ~ N(θ_class, c²·s²), θ_class around the shop's mean",
    inputs: [
      measured("runs of this class", hours.runs),
      measured("of them known by a bound alone", hours.bounds),
      measured("worth as many known outright", rounded(hours.effectiveRuns)),
      measured("typical factor, P10 to P90", rangeWords(hours.typical)),
      measured("share that rests on the shop's mean", Math.round(100 * hours.pooled), "%"),
      {
        name: "spread of the model's own range, P90 over P50",
        symbol: "s",
        value: rounded(Math.exp(Z90 * USUAL_SPREAD)),
        standing: "assumption",
      },
    ],
    standing: hours.runs > 0 ? "measured here" : "assumption",
    source: "normal-inverse-gamma with partial pooling, bounds by their probability",
    note: "Low and high are P10 and P90 of the next part, not of the mean. Pulled late counts as clean before; put back in as not clean yet.",
  };
}

/** The mean factor of the whole shop, with its working. @example workedShopFactor(learned).value // 1.08 */
export function workedShopFactor({ shop, runs, classKeys }: LearnedHours): Worked {
  return {
    name: "the whole shop: hours over the model's",
    value: shop.p50,
    low: shop.p10,
    high: shop.p90,
    unit: "× model",
    formula: "θ_class ~ N(μ, (0.2·c)²), μ ~ N(0, (0.25·c)²); e^μ",
    inputs: [measured("runs", runs), measured("classes with runs", classKeys.length)],
    standing: runs > 0 ? "measured here" : "assumption",
    source: "normal-inverse-gamma with partial pooling",
    note: "The mean that classes with few runs of their own lean on. Low and high are P10 and P90 of it.",
  };
}

/**
 * How often a forecast held, in %, with the 95 % interval.
 *
 * @param due the share that should have been, %
 */
export function workedCoverage(name: string, counted: CountedShare, due: number): Worked {
  return {
    name,
    value: 100 * counted.share,
    low: 100 * counted.low,
    high: 100 * counted.high,
    unit: "%",
    formula: "hits / runs, interval by Wilson's score",
    inputs: [
      measured("held", counted.hits),
      measured("runs whose time is known outright", counted.of),
      { name: "should be", value: due, unit: "%", standing: "standard" },
    ],
    standing: "measured here",
    source: "Wilson 1927; by what was foretold when each part was planned",
    note: "Low and high are a 95 % interval. Parts pulled late or put back in are not counted: a shop that pulls many late sees its slow parts here more often than its quick ones.",
  };
}

/** φ of an anode from its weighings, with its working. */
export function workedLossFactor(prior: LossFactor, learned: LearnedLossFactor): Worked {
  return {
    name: "share of charge that dissolves iron",
    value: learned.mean,
    low: learned.quantile(0.1),
    high: learned.quantile(0.9),
    unit: "",
    formula: "m_i = M − φ·1.0418 g/A·h·Q_i, weighted least squares with the prior, φ from 0 to 1",
    inputs: [
      {
        name: "before any weighing",
        value: `${rounded(prior.mean)} ± ${rounded(prior.error)}`,
        standing: "assumption",
        source: "by the soda in the tank",
      },
      measured("weighings since it was hung", learned.weighings),
    ],
    standing: learned.weighings > 0 ? "measured here" : "assumption",
    source: "Faraday's law (CODATA 2018) and the scale",
    note: "Over the charge as the readings count it. Low and high are P10 and P90.",
  };
}

/** Contacts of a tank, and the model's bath against its readings, each with its working. */
export function workedResistance(
  enteredOhm: number,
  learned: LearnedResistance,
): { readonly contact: Worked; readonly bath: Worked } {
  const shared = {
    formula: "V − E(I) − I·R_leads = I·(R_contacts + R_bath / f)",
    standing: learned.loads > 0 ? "measured here" : "assumption",
    source: "volts and amps of this tank's loads, each load's readings joined",
    note: `${tradeOffWords(learned)} Low and high are P10 and P90.`,
  } as const;
  const loads = measured("loads with readings", learned.loads);
  return {
    contact: {
      ...shared,
      name: "resistance of clamps and clips",
      value: learned.contactOhm(0.5),
      low: learned.contactOhm(0.1),
      high: learned.contactOhm(0.9),
      unit: "Ω",
      inputs: [
        loads,
        { name: "as entered", value: enteredOhm, unit: "Ω", standing: "entered here" },
      ],
    },
    bath: {
      ...shared,
      name: "bath against the model",
      value: learned.bathFactor(0.5),
      low: learned.bathFactor(0.1),
      high: learned.bathFactor(0.9),
      unit: "× κ·g",
      inputs: [loads],
    },
  };
}

/** From this correlation two figures count as hardly told apart. */
const HARDLY_APART = 0.5;

function tradeOffWords({ tradeOff, loads }: LearnedResistance): string {
  if (loads === 0) return "No load with readings yet.";
  return tradeOff > HARDLY_APART
    ? "These loads hardly tell clamps and bath apart: both trade off, their sum is known better. Loads of other sizes will part them."
    : "Clamps and bath are learned together.";
}

const measured = (name: string, value: number | string, unit?: string): WorkedInput => ({
  name,
  value,
  ...(unit === undefined ? {} : { unit }),
  standing: "measured here",
});

const rounded = (value: number): number => Number(value.toPrecision(3));
const rangeWords = ({ p10, p90 }: Range): string => `${rounded(p10)} to ${rounded(p90)}`;
