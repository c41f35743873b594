import {
  type CostLine,
  type Effect,
  type JobCost,
  laidTo,
  LINE_KIND_WORDS,
  type LineKind,
  type RateCard,
  type Variance,
  varianceOf,
} from "@/lib/pricing";
import type { CostedJob } from "@/lib/data";
import type { JobRecords } from "./actuals";
import { labourPieces, runPieces, stockWords } from "./pieces";

/** One kind of cost that came out otherwise than estimated, and what stands behind it. */
export type Cause = {
  readonly kind: LineKind;
  /** positive took more */
  readonly varianceMinor: number;
  /** "labour", "tank time" */
  readonly words: string;
  /** who and what, in whole minor units that add up to the difference */
  readonly effects: readonly Effect[];
};

/** What the differences of a job are told from. */
export type CauseGround = {
  readonly job: CostedJob;
  readonly cost: JobCost;
  readonly estimate: readonly CostLine[];
  readonly records: JobRecords;
  readonly rates: RateCard;
};

/** Every difference between what was estimated and what it took, the largest first, laid to who and what made it. */
export function causesOf(ground: CauseGround): readonly Cause[] {
  return ground.cost.lines
    .filter(({ varianceMinor }) => varianceMinor !== 0)
    .sort((a, b) => Math.abs(b.varianceMinor) - Math.abs(a.varianceMinor))
    .map((line) => ({
      kind: line.kind,
      varianceMinor: line.varianceMinor,
      words: LINE_KIND_WORDS[line.kind],
      effects: effectsOf(line, ground),
    }));
}

type Line = JobCost["lines"][number];

/** How much of each was taken, in the unit of its estimate, where the shop's records say so. */
const TAKEN: Readonly<Partial<Record<LineKind, (records: JobRecords) => number>>> = {
  LABOUR: ({ actuals }) => actuals.labourMinutes / 60,
  TANK_TIME: ({ actuals }) => actuals.tankHours,
  ENERGY: ({ actuals }) => actuals.energyKwh,
  DISPOSAL: ({ actuals }) => actuals.disposalL,
};

function effectsOf(line: Line, ground: CauseGround): readonly Effect[] {
  const taken = TAKEN[line.kind]?.(ground.records);
  const variance = taken === undefined ? null : varianceOf(line, ground.estimate, taken);
  if (taken === undefined || !variance) {
    return [{ words: plainWords(line.kind, ground.records), minor: line.varianceMinor }];
  }
  const { priceMinor } = variance;
  // One minor unit is what rounding leaves: no price to speak of.
  const words = Math.abs(priceMinor) <= 1 ? "Rounding." : PRICE_WORDS[line.kind];
  const price = { words: words ?? "Its price.", minor: priceMinor };
  return [
    ...quantityEffects(line.kind, variance, taken, ground),
    ...(price.minor === 0 ? [] : [price]),
  ];
}

const PRICE_WORDS: Readonly<Partial<Record<LineKind, string>>> = {
  LABOUR: "An hour cost otherwise than estimated: who did what, and the rate of the day.",
  TANK_TIME: "A tank hour is charged otherwise than when it was estimated.",
  ENERGY: "A kW·h cost otherwise than estimated: the tariff of the hours in the bath.",
  DISPOSAL: "A litre is disposed of otherwise than when it was estimated.",
};

function quantityEffects(
  kind: LineKind,
  variance: Variance,
  taken: number,
  { job, cost, records, rates }: CauseGround,
): readonly Effect[] {
  const { plannedQuantity } = variance;
  switch (kind) {
    case "LABOUR": {
      const pieces = labourPieces(records.labour, job.parts, rates, plannedQuantity);
      return laidTo(variance, pieces, "Minutes that no task was planned for.", cost.currency);
    }
    case "TANK_TIME":
    case "ENERGY":
      return laidTo(
        variance,
        runPieces(kind, records.runs),
        "Runs planned otherwise than they came: shared tanks, a run more, or one that is still to come.",
        cost.currency,
      );
    default: {
      const words = `{${taken.toFixed(1)} L} of spent bath; planned were {${plannedQuantity.toFixed(1)} L}.`;
      return laidTo(variance, [], words, cost.currency);
    }
  }
}

function plainWords(kind: LineKind, records: JobRecords): string {
  switch (kind) {
    case "SODA":
    case "CONSUMABLES":
      return stockWords(kind, records);
    case "ANODE_STEEL":
      return records.runs
        .map(
          ({ number, jobChargeAh, planned }) =>
            `Run ${number} passed ${Math.round(jobChargeAh)} A·h, planned were ${Math.round(planned.chargeAh)} A·h.`,
        )
        .join(" ");
    case "CONTINGENCY":
      return "Set aside for longer hours; what longer hours cost stands under the other lines.";
    case "OVERHEAD":
      return "It follows the other lines.";
    default:
      return "Nothing that is planned was written down yet.";
  }
}
