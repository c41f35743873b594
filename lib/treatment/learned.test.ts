import { describe, expect, it } from "vitest";
import type { Coating, PartShape, RustGrade } from "./codes";
import { casting, tub, workshop } from "./fixtures";
import type { HoursRange } from "./hours";
import { type HoursLearned, learningClass } from "./learned";
import { planPart, type TreatmentPlan } from "./plan";

const RUST = { rustGrade: "C", coatings: [], goal: "RUST_ONLY" } as const;

describe("the class a part's hours are learned with", () => {
  it.each<[PartShape, string]>([
    ["PLATE", "FACES"],
    ["SOLID", "FACES"],
    ["BAR_GRID", "OPENWORK"],
    ["RING", "OPENWORK"],
    ["BOX", "HOLLOW"],
    ["TUBE", "HOLLOW"],
    ["PAN", "HOLLOW"],
  ])("of a %s is %s", (shape, expected) => {
    expect(learningClass({ ...RUST, shape }).shape).toBe(expected);
  });

  it.each<[RustGrade, string]>([
    ["A", "LIGHT_RUST"],
    ["B", "LIGHT_RUST"],
    ["C", "RUST"],
    ["D", "HEAVY_RUST"],
  ])("of rust grade %s is %s", (rustGrade, expected) => {
    expect(learningClass({ ...RUST, shape: "PAN", rustGrade }).condition).toBe(expected);
  });

  it("is that of the coat where one must go and holds things up", () => {
    const coated = (coating: Coating, goal: "RUST_ONLY" | "STRIP_TO_METAL") =>
      learningClass({ shape: "PAN", rustGrade: "D", coatings: [coating], goal }).condition;
    expect(coated("OIL_PAINT", "STRIP_TO_METAL")).toBe("COAT");
    expect(coated("OIL_PAINT", "RUST_ONLY")).toBe("HEAVY_RUST");
    expect(coated("WAX_OR_GREASE", "STRIP_TO_METAL")).toBe("HEAVY_RUST");
  });
});

/** A shop in which everything takes half as long again, with a narrower range. */
const SLOW: HoursLearned = {
  runs: 12,
  pooled: 0.256,
  range: ({ p50 }: HoursRange) => ({ p10: p50, p50: 1.5 * p50, p90: 2 * p50 }),
};

function planned(request: Partial<Parameters<typeof planPart>[0]> = {}): TreatmentPlan {
  const answer = planPart({ part: casting, tanks: [tub], workshop, ...request });
  if (!answer.planned) throw new Error("the casting fits the tub");
  return answer.plan;
}

describe("a plan in a shop that has learned", () => {
  const model = planned();
  const learned = planned({ learned: SLOW });

  it("keeps the model's hours beside its own", () => {
    expect(model.modelHours).toEqual(model.hours);
    expect(learned.modelHours).toEqual(model.hours);
    expect(learned.hours).toEqual(SLOW.range(model.hours));
  });

  it("works out charge and energy from the hours it tells", () => {
    expect(learned.figures.chargeAh.value).toBeCloseTo(1.5 * model.figures.chargeAh.value, 9);
    expect(learned.figures.energyKwh.value).toBeCloseTo(1.5 * model.figures.energyKwh.value, 9);
  });

  it("says what moved its hours", () => {
    const { hours } = learned.figures;
    expect(model.figures.hours.standing).toBe("assumption");
    expect(hours).toMatchObject({
      value: learned.hours.p50,
      low: learned.hours.p10,
      high: learned.hours.p90,
      standing: "measured here",
    });
    expect(hours.formula).toBe(`t = factor × (${model.figures.hours.formula})`);
    expect(hours.source).toContain("12 of parts like this one");
    const input = (name: RegExp) => hours.inputs.find((one) => name.test(one.name));
    expect(input(/factor learned/)).toMatchObject({ value: 1.5, standing: "measured here" });
    expect(input(/shop's mean/)).toMatchObject({ value: 26, unit: "%" });
    expect(input(/runs of parts/)?.value).toBe(12);
    const before = String(input(/before learning/)?.value)
      .split(", ")
      .map(Number);
    expect(before[1]).toBeCloseTo(model.hours.p50, 1);
    expect(before[0]).toBeLessThan(before[1] ?? 0);
    expect(before[2]).toBeGreaterThan(before[1] ?? 0);
    expect(hours.inputs.length).toBeGreaterThan(model.figures.hours.inputs.length);
  });
});

describe("a plan in a tank whose readings were learned from", () => {
  const measured = { contactOhm: 0.3, bathFactor: 0.5, bathFactorErrorShare: 0.05, loads: 7 };
  const entered = planned();
  const learned = planned({ tanks: [{ ...tub, measured }] });

  it("draws what contacts and bath as measured let through, in a narrower band", () => {
    expect(learned.currentA.mid).toBeLessThan(0.75 * entered.currentA.mid);
    const width = ({ low, high }: TreatmentPlan["currentA"]) => high / low;
    expect(width(learned.currentA)).toBeLessThan(width(entered.currentA));
  });

  it("says so", () => {
    const inputs = (plan: TreatmentPlan, name: RegExp) =>
      plan.figures.currentA.inputs.find((one) => name.test(one.name));
    expect(inputs(entered, /clamps/)).toMatchObject({ value: 0.02, standing: "entered here" });
    expect(inputs(learned, /clamps/)).toMatchObject({ value: 0.3, standing: "measured here" });
    expect(inputs(learned, /clamps/)?.source).toContain("7 loads");
    expect(inputs(learned, /shape length/)).toMatchObject({ standing: "measured here" });
    expect(inputs(learned, /shape length/)?.source).toContain("times 0.5");
    const ratio =
      Number(inputs(learned, /shape length/)?.value) /
      Number(inputs(entered, /shape length/)?.value);
    expect(ratio).toBeCloseTo(0.5, 9);
  });
});
