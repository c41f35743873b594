import { describe, expect, it } from "vitest";
import { box, casting, tub, workshop } from "./fixtures";
import {
  densities,
  faceHours,
  insideLag,
  sideHours,
  slowestCoat,
  withInnerAnode,
  workedHours,
} from "./hours";
import { planPart, type TreatmentPlan } from "./plan";
import type { PartDescription } from "./part";

const hollow = { insideShare: 0.4, insideLag: 2 };
const coated: PartDescription = { ...casting, coatings: ["OIL_PAINT"], goal: "STRIP_TO_METAL" };

const plan = (part: PartDescription, tank = tub): TreatmentPlan => {
  const answer = planPart({ part, tanks: [tank], workshop });
  if (!answer.planned) throw new Error(JSON.stringify(answer.notTaken));
  return answer.plan;
};

describe("densities of a part's sides", () => {
  it("count an inside from a tenth of the area on", () => {
    expect(densities(6, 0.5, { insideShare: 0.0999, insideLag: 3 }).insideAPerM2).toBeNull();
    const { outsideAPerM2, insideAPerM2 } = densities(6, 0.5, { insideShare: 0.1, insideLag: 3 });
    expect(insideAPerM2).toBe(outsideAPerM2 / 3);
  });

  it.each<[string, () => unknown, RegExp]>([
    ["no current", () => densities(0, 0.5, hollow), /current .* A, got 0/],
    ["no area", () => densities(6, 0, hollow), /area .* m², got 0/],
    [
      "more inside than all",
      () => densities(6, 0.5, { ...hollow, insideShare: 1.1 }),
      /inside share must be from 0 to 1 \(share\), got 1.1/,
    ],
    [
      "an inside ahead of the outside",
      () => densities(6, 0.5, { ...hollow, insideLag: 0.9 }),
      /inside lag must be from 1 to 3 \(ratio\), got 0.9/,
    ],
    ["no opening", () => insideLag(10, 0), /opening of the hollow .* mm, got 0/],
    ["a depth below nought", () => insideLag(-1, 10), /depth of the hollow .*mm.*got -1/],
    ["no density", () => faceHours(casting, 0), /current density .* A\/m², got 0/],
    ["a spread under one", () => faceHours(casting, 9, 0.5), /spread of the current .*got 0.5/],
  ])("refuse %s, naming it", (_what, call, words) => {
    expect(call).toThrow(words);
  });
});

describe("hours of a part's sides", () => {
  it("end with the slower side", () => {
    const { outside, inside, worst } = sideHours(casting, 3, 0.2, hollow, 1.2);
    expect(inside?.p50).toBeCloseTo(2 * outside.p50, 12);
    expect(worst).toEqual(inside);
    const flat = sideHours(casting, 3, 0.2, { insideShare: 0, insideLag: 1 });
    expect(flat.inside).toBeNull();
    expect(flat.worst).toEqual(flat.outside);
  });

  it("wait for a coat only where it has to go", () => {
    expect(slowestCoat(coated)).toBe(18);
    expect(slowestCoat({ ...coated, goal: "RUST_ONLY" })).toBeNull();
    expect(slowestCoat({ ...coated, coatings: ["WAX_OR_GREASE"] })).toBeNull();
    expect(slowestCoat({ ...coated, coatings: ["OIL_PAINT", "BAKED_OR_POWDER"] })).toBe(30);
  });

  it("show the law they follow: rust alone or the later of rust and paint, and the lag where there is one", () => {
    expect(workedHours("hours outside", casting, 10, 1).formula).toBe("t = q / min(j, j_sat)");
    expect(workedHours("hours inside", casting, 10, 1, 2.5).formula).toBe(
      "t = 2.5 × q / min(j, j_sat)",
    );
    expect(workedHours("hours outside", coated, 10, 1).formula).toBe(
      "t = max(q / min(j, j_sat), t₁₀·√(10/j))",
    );
  });
});

describe("laws of the hours", () => {
  it("fall with the current for rust, and with its root for paint", () => {
    // 50 A·h/m² of rust at 5 A/m²; the slowest coat 18 h at 10 A/m².
    expect(faceHours(casting, 5).p50).toBeCloseTo(10, 12);
    expect(faceHours(coated, 10).p50).toBeCloseTo(18, 12);
    expect(faceHours(coated, 2.5).p50).toBeCloseTo(36, 12);
    expect(faceHours(coated, 40).p50).toBeCloseTo(9, 12);
    // Heavy rust under the paint is what takes longest in a weak bath.
    expect(faceHours({ ...coated, rustGrade: "D" }, 1).p50).toBeCloseTo(120, 12);
  });

  it("spread by the part and by the current, which counts half for paint", () => {
    const spread = (hours: { p10: number; p50: number; p90: number }) => {
      expect(hours.p50 / hours.p10).toBeCloseTo(hours.p90 / hours.p50, 12);
      return Math.log(hours.p90 / hours.p50);
    };
    expect(spread(faceHours(casting, 10, 1.5))).toBeCloseTo(
      Math.hypot(Math.log(1.8), Math.log(1.5)),
      12,
    );
    expect(spread(faceHours(coated, 10, 1.5))).toBeCloseTo(
      Math.hypot(Math.log(1.5), Math.log(1.5) / 2),
      12,
    );
  });

  it("take the current's spread through both sides of a part", () => {
    const { outside, worst } = sideHours(casting, 3, 0.2, hollow, 1.5);
    const known = sideHours(casting, 3, 0.2, hollow);
    expect(outside.p90).toBeGreaterThan(known.outside.p90);
    expect(worst.p50).toBeCloseTo(known.worst.p50, 12);
  });

  it("have a flat dish lag hardly, a hollow half as deep as wide the full three times", () => {
    expect(insideLag(0, 100)).toBe(1);
    expect(insideLag(25, 100)).toBeCloseTo(2, 12);
    expect(insideLag(50, 100)).toBe(3);
    expect(insideLag(500, 100)).toBe(3);
  });

  it("keep the share when an anode hangs inside, and lose the lag", () => {
    expect(withInnerAnode(hollow)).toEqual({ insideShare: 0.4, insideLag: 1 });
  });

  it("show what they are worked out from", () => {
    const hours = workedHours("hours inside", { ...coated, rustGrade: "D" }, 8, 1.3, 2);
    const plain = faceHours({ ...coated, rustGrade: "D" }, 8, 1.3);
    expect(hours).toMatchObject({ name: "hours inside", unit: "h", standing: "assumption" });
    expect(hours.value).toBeCloseTo(2 * plain.p50, 12);
    expect(hours.low).toBeCloseTo(2 * plain.p10, 12);
    expect(hours.high).toBeCloseTo(2 * plain.p90, 12);
    expect(hours.inputs.map(({ symbol, value, unit }) => [symbol, value, unit])).toEqual([
      ["q", 120, "A·h/m²"],
      ["j", 8, "A/m²"],
      ["j_sat", 15, "A/m²"],
      ["t₁₀", 18, "h"],
    ]);
    expect(hours.source).toMatch(/^common practice, no source/);
    expect(hours.note).toMatch(/nine in ten by the high one/);
    expect(workedHours("hours", casting, 8, 1).inputs.map(({ symbol }) => symbol)).toEqual([
      "q",
      "j",
      "j_sat",
    ]);
  });
});

describe("what a plan says only where it holds", () => {
  it("the dips of a part that is turned end for end", () => {
    const long = { ...casting, lengthMm: 1100, widthMm: 60, heightMm: 40 };
    const deep = { ...tub, workingLevelMm: 700 };
    const trough = {
      ...deep,
      shape: { kind: "ROUND", topDiameterMm: 500, bottomDiameterMm: 460, depthMm: 800 } as const,
    };
    const turned = plan(long, trough);
    expect(turned.dips).toBe(2);
    expect(turned.figures.hours.formula).toBe("dips × the slower of outside and inside");
    expect(plan(casting).figures.hours.formula).toBe("the slower of outside and inside");
  });

  it("that cast iron is dried right through", () => {
    const drying = (part: PartDescription): string =>
      plan(part).steps.find(({ title }) => /dry/i.test(title))?.detail ?? "";
    expect(drying(casting)).toMatch(/cast iron/);
    expect(drying(box)).not.toMatch(/cast iron/);
    expect(drying(box)).toMatch(/\w{4}/);
  });
});
