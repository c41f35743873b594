import { describe, expect, it } from "vitest";
import { figuresIn, expectWholeFigure } from "@/test/support/worked-contract";
import { bench, box, bucket, casting, tub, workshop } from "./fixtures";
import type { PartDescription } from "./part";
import { planPart, type TreatmentPlan } from "./plan";
import type { TankOption } from "./tank-option";
import { outlook, plannedSettings, startWhatIf } from "./what-if";

const planned = (part: PartDescription, tanks: readonly TankOption[]): TreatmentPlan => {
  const answer = planPart({ part, tanks, workshop });
  if (!answer.planned) throw new Error(JSON.stringify(answer.notTaken));
  return answer.plan;
};

const painted: PartDescription = {
  ...casting,
  coatings: ["OIL_PAINT", "LEAD_PAINT_SUSPECTED"],
  goal: "STRIP_TO_METAL",
};
const spring: PartDescription = { ...casting, material: "SPRING_STEEL", hardnessHrc: 38 };
const used: TankOption = {
  ...tub,
  bath: { carbonateG: 150, bicarbonateG: 150, volumeL: 90 },
  measured: { contactOhm: 0.05, bathFactor: 0.9, bathFactorErrorShare: 0.1, loads: 6 },
};
const lengthOfBar: PartDescription = { ...casting, lengthMm: 470, widthMm: 40, heightMm: 40 };

const CASES: readonly (readonly [string, PartDescription, TankOption])[] = [
  ["a casting in a fresh bath", casting, tub],
  ["a box that lags inside", box, tub],
  ["paint to strip", painted, tub],
  ["a spring that is baked", spring, tub],
  ["a used bath with what the tank taught", casting, used],
  ["a bench supply", casting, { ...tub, supply: bench }],
  ["an area that was measured, no mass", { ...casting, areaOverrideM2: 0.09, massG: null }, tub],
  ["a bar end for end in a bucket", lengthOfBar, bucket],
  ["several pieces", { ...casting, quantity: 3 }, tub],
];

describe("what a plan says", () => {
  it.each(CASES)("of %s: every figure is whole", (_name, part, tank) => {
    const figures = figuresIn(planned(part, [tank]).figures);
    expect(figures.length).toBeGreaterThan(15);
    for (const figure of figures) {
      if (figure.inputs.length > 0) expectWholeFigure(figure);
      // Only what was put on the scales or measured has nothing to be worked out from.
      else expect(figure.formula).toMatch(/^as (measured|weighed)$/);
    }
  });

  it.each(CASES)("of %s: every step says what and how", (_name, part, tank) => {
    const { steps, lieWords, warnings } = planned(part, [tank]);
    expect(new Set(steps.map(({ title }) => title)).size).toBe(steps.length);
    for (const { title, detail, when, caution } of steps) {
      expect(title).toMatch(/\w{3}/);
      expect(detail).toMatch(/\w{3}.*[.!]$/s);
      expect(["BEFORE", "BATH", "AFTER"]).toContain(when);
      if (caution) expect(caution).toMatch(/\w{4}/);
    }
    expect(lieWords).toMatch(/\w{4}/);
    for (const warning of warnings) expect(warning).toMatch(/\w{4}.*\./);
  });

  it.each(CASES)("of %s: the steps keep hands and room safe", (_name, part, tank) => {
    const words = planned(part, [tank])
      .steps.map(({ title, detail, caution }) => `${title} ${detail} ${caution ?? ""}`)
      .join(" ");
    expect(words).toMatch(/supply off/i);
    expect(words).toMatch(/hydrogen/i);
    expect(words).toMatch(/no flame/i);
    expect(words).toMatch(/polarity/i);
    expect(words).toMatch(/must not touch the anode/i);
  });

  it("tells of every other tank why it was not taken", () => {
    const { notTaken } = planned(casting, [
      tub,
      { ...bucket, anode: null },
      { ...used, id: "used" },
    ]);
    expect(notTaken.map(({ why }) => why)).toHaveLength(2);
    for (const { why, name, tankId } of notTaken) {
      expect(why).toMatch(/\w{3}.*\./);
      expect(name).not.toBe("");
      expect(tankId).not.toBe("");
    }
  });
});

describe("what other settings say", () => {
  it.each(CASES)("of %s", (_name, part, tank) => {
    const begun = startWhatIf(part, tank, workshop);
    if (typeof begun === "string") throw new Error(begun);
    for (const figure of figuresIn(outlook(begun, plannedSettings(begun)))) {
      expectWholeFigure(figure);
    }
  });
});

describe("what a shop that has learned says", () => {
  it("of a part's hours is whole", () => {
    const answer = planPart({
      part: box,
      tanks: [tub],
      workshop,
      learned: {
        runs: 12,
        pooled: 0.25,
        range: ({ p10, p50, p90 }) => ({ p10, p50: 1.5 * p50, p90: 2 * p90 }),
      },
    });
    if (!answer.planned) throw new Error("not planned");
    expectWholeFigure(answer.plan.figures.hours);
    expect(answer.plan.figures.hours.source).toMatch(/12 of parts like this one/);
  });
});
