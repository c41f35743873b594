import { describe, expect, it } from "vitest";
import { tryTank } from "./candidate";
import { box, bucket, casting, tub, workshop } from "./fixtures";
import type { HoursRange } from "./hours";
import { type PartDescription, sizePart } from "./part";
import { planPart, type PlanRequest, type TreatmentPlan } from "./plan";

const planned = (
  part: PartDescription = casting,
  request: Partial<PlanRequest> = {},
): TreatmentPlan => {
  const answer = planPart({ part, tanks: [tub], workshop, ...request });
  if (!answer.planned) throw new Error(JSON.stringify(answer.notTaken));
  return answer.plan;
};
const titles = ({ steps }: TreatmentPlan): readonly string[] => steps.map(({ title }) => title);

describe("the tank of a plan", () => {
  const small = { ...casting, lengthMm: 120, widthMm: 60, heightMm: 40 };
  const spare = { ...tub, id: "spare", name: "Spare", anode: null };

  it("is the planner's own where the one that was asked for does not do or is not there", () => {
    for (const preferredTankId of ["spare", "nowhere", undefined]) {
      const plan = planned(small, { tanks: [tub, spare, bucket], preferredTankId });
      expect(plan.tankId).toBe("bucket");
    }
  });

  it("tells first of those that do not do, then of those that would", () => {
    const { notTaken } = planned(small, { tanks: [tub, spare, bucket] });
    expect(notTaken.map(({ tankId, name }) => [tankId, name])).toEqual([
      ["spare", "Spare"],
      ["tub", "Blue tub"],
    ]);
    expect(notTaken[0]?.why).toBe("No anode hangs in it.");
    expect(notTaken[1]?.why).toMatch(/larger bath: {\d+ L} instead of {\d+ L}/);
  });

  it("is told as it was planned with", () => {
    const plan = planned();
    const candidate = tryTank(tub, casting, sizePart(casting), workshop);
    if (typeof candidate === "string") throw new Error(candidate);
    const { low, mid, high } = candidate.band;
    expect(plan).toMatchObject({
      tankName: "Blue tub",
      shape: tub.shape,
      lie: candidate.fit.lie,
      lieWords: candidate.fit.words,
      levelMm: candidate.levelMm,
      saltGrade: "SODA_ASH_LIGHT",
      currentA: { low: low.currentA, mid: mid.currentA, high: high.currentA },
      ratingShare: mid.ratingShare,
      freshMix: true,
    });
    expect(low.currentA).toBeLessThan(mid.currentA);
    expect(mid.currentA).toBeLessThan(high.currentA);
  });
});

describe("an inner anode", () => {
  /** Thin sheet, a little under half of it inside; how deep decides how far the inside lags. */
  const tray = (heightMm: number): PartDescription => ({
    ...box,
    lengthMm: 400,
    widthMm: 300,
    heightMm,
    wallMm: 1,
  });

  /** So little current that more of it would clean more. */
  const weakly = { tanks: [{ ...tub, contactOhm: 3 }] };

  it("is worth hanging where it saves three tenths, and not below", () => {
    // The load as a whole gains 1 + (lag − 1)(1 − inside share): 1.25 and 1.38 times.
    const shallow = planned(tray(36), weakly);
    expect(shallow.figures.hoursInside?.value).toBeGreaterThan(shallow.figures.hoursOutside.value);
    expect(shallow.hoursWithInnerAnode).toBeNull();
    expect(titles(shallow)).not.toContain("Hang an inner anode");
    const deep = planned(tray(58), weakly);
    expect(deep.hoursWithInnerAnode?.p50).toBeLessThan(deep.hours.p50 / 1.3);
    expect(titles(deep)).toContain("Hang an inner anode");
  });

  it("helps no part without an inside", () => {
    expect(planned().hoursWithInnerAnode).toBeNull();
  });

  it("is told in the shop's own hours, all dips together", () => {
    const twice = ({ p10, p50, p90 }: HoursRange): HoursRange => ({
      p10: 2 * p10,
      p50: 2 * p50,
      p90: 2 * p90,
    });
    const model = planned(box);
    const learned = planned(box, { learned: { runs: 4, pooled: 0.5, range: twice } });
    expect(learned.hoursWithInnerAnode?.p50).toBeCloseTo(
      2 * (model.hoursWithInnerAnode?.p50 ?? 0),
      9,
    );
    const tall: PartDescription = { ...box, lengthMm: 450, widthMm: 60, heightMm: 60 };
    const turned = planned(tall, { tanks: [bucket] });
    expect(turned.dips).toBe(2);
    expect(turned.hours.p50 / (turned.figures.hoursInside?.value ?? 0)).toBeCloseTo(2, 9);
    expect(turned.hoursWithInnerAnode?.p50).toBeLessThan(turned.hours.p50);
    // Half of it wet at a time: twice the time of one dip.
    expect(turned.hoursWithInnerAnode?.p50).toBeGreaterThan(turned.figures.hoursOutside.value);
  });
});

describe("the bake of a plan", () => {
  const steel: PartDescription = { ...casting, material: "HARDENED_STEEL" };

  it("follows strength or hardness, and is none where the table ends on either side", () => {
    expect(planned({ ...steel, hardnessHrc: 31 }).reliefBake?.hours).toBe(8);
    expect(planned({ ...steel, tensileMpa: 1300 }).reliefBake?.hours).toBe(12);
    expect(titles(planned({ ...steel, hardnessHrc: 31 }))).toContain("Relief bake");
    for (const hardnessHrc of [30.9, 60]) {
      const plan = planned({ ...steel, hardnessHrc });
      expect(plan.reliefBake).toBeNull();
      expect(titles(plan)).not.toContain("Relief bake");
    }
  });
});

describe("a plan without learning", () => {
  it("has the model's hours for its own, all dips together", () => {
    const plan = planned();
    expect(plan.modelHours).toEqual(plan.hours);
    expect(plan.hours.p50).toBeCloseTo(plan.figures.hoursOutside.value, 9);
    const bar: PartDescription = { ...casting, lengthMm: 470, widthMm: 40, heightMm: 40 };
    const turned = planned(bar, { tanks: [bucket] });
    expect(turned.hours.p50 / turned.figures.hoursOutside.value).toBeCloseTo(2, 9);
    expect(titles(turned)).toContain("Turn end for end");
  });
});
