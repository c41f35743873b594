import type { Worked, WorkedInput } from "@/lib/units";
import type { PartShape, RustGrade } from "./codes";
import { type Condition, type HoursRange, slowestCoat } from "./hours";

/** Shapes that clean alike: the same faces see the anode, or lag behind. */
export const SHAPE_CLASSES = ["FACES", "OPENWORK", "HOLLOW"] as const;
export type ShapeClass = (typeof SHAPE_CLASSES)[number];
/** What decides when a part is done. */
export const CONDITION_CLASSES = ["LIGHT_RUST", "RUST", "HEAVY_RUST", "COAT"] as const;
export type ConditionClass = (typeof CONDITION_CLASSES)[number];

export const SHAPE_CLASS_NAMES: Readonly<Record<ShapeClass, string>> = {
  FACES: "plates and blocks",
  OPENWORK: "bars, lattices and rings",
  HOLLOW: "boxes, tubes and pans",
};
export const CONDITION_CLASS_NAMES: Readonly<Record<ConditionClass, string>> = {
  LIGHT_RUST: "light rust (grades A and B)",
  RUST: "rust (grade C)",
  HEAVY_RUST: "heavy rust (grade D)",
  COAT: "a coat to strip",
};

const SHAPE_CLASS_OF: Readonly<Record<PartShape, ShapeClass>> = {
  PLATE: "FACES",
  SOLID: "FACES",
  BAR_GRID: "OPENWORK",
  RING: "OPENWORK",
  BOX: "HOLLOW",
  TUBE: "HOLLOW",
  PAN: "HOLLOW",
};
const CONDITION_CLASS_OF: Readonly<Record<RustGrade, ConditionClass>> = {
  A: "LIGHT_RUST",
  B: "LIGHT_RUST",
  C: "RUST",
  D: "HEAVY_RUST",
};

/** The class that a part's hours are learned with. */
export type LearningClass = { readonly shape: ShapeClass; readonly condition: ConditionClass };

/**
 * Class of a part for learning: few enough that each fills, alike enough to be one.
 * @example learningClass({ shape: "PAN", rustGrade: "D", coatings: [], goal: "RUST_ONLY" }) // HOLLOW, HEAVY_RUST
 */
export function learningClass(part: Condition & { readonly shape: PartShape }): LearningClass {
  return {
    shape: SHAPE_CLASS_OF[part.shape],
    condition: slowestCoat(part) === null ? CONDITION_CLASS_OF[part.rustGrade] : "COAT",
  };
}

/** What the shop's own runs say of the hours of a part's class; `range` turns the model's hours into theirs. */
export type HoursLearned = {
  readonly runs: number;
  readonly pooled: number;
  readonly range: (model: HoursRange) => HoursRange;
};

/** The shop's hours from the model's, with their working. `model` is the model's own figure. */
export function workedLearnedHours(
  model: Worked,
  modelHours: HoursRange,
  hours: HoursRange,
  learned: Omit<HoursLearned, "range">,
): Worked {
  return {
    ...model,
    value: hours.p50,
    low: hours.p10,
    high: hours.p90,
    formula: `t = factor × (${model.formula})`,
    inputs: [...model.inputs, ...learnedInputs(modelHours, hours, learned)],
    standing: "measured here",
    source: `this shop's own runs: ${learned.runs} of parts like this one, the rest from its other runs`,
  };
}

function learnedInputs(
  model: HoursRange,
  hours: HoursRange,
  { runs, pooled }: Omit<HoursLearned, "range">,
): WorkedInput[] {
  const words = ({ p10, p50, p90 }: HoursRange): string =>
    [p10, p50, p90].map((value) => String(Number(value.toPrecision(3)))).join(", ");
  return [
    {
      name: "model's hours before learning, P10, P50, P90",
      value: words(model),
      unit: "h",
      standing: "assumption",
    },
    {
      name: "factor learned from runs",
      value: Number((hours.p50 / model.p50).toPrecision(3)),
      standing: "measured here",
      source: "log(actual / model) by shape class and condition, pooled with the shop's mean",
    },
    { name: "runs of parts like this one", value: runs, standing: "measured here" },
    {
      name: "share that rests on the shop's mean",
      value: Math.round(100 * pooled),
      unit: "%",
      standing: "measured here",
    },
  ];
}
