import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bench, box, bucket, casting, tub, workshop } from "./fixtures";
import type { PartDescription } from "./part";
import { planPart } from "./plan";
import type { TankOption } from "./tank-option";
import { mostDose, outlook, plannedSettings, startWhatIf, type WhatIfStart } from "./what-if";

function start(part: PartDescription = casting, tank: TankOption = tub): WhatIfStart {
  const begun = startWhatIf(part, tank, workshop);
  if (typeof begun === "string") throw new Error(begun);
  return begun;
}
const near = (value: number, other: number): void => {
  expect(Math.abs(value / other - 1)).toBeLessThan(1e-9);
};

describe("trying other settings", () => {
  it("with the plan's own gives the plan's own figures", () => {
    for (const part of [casting, box]) {
      const answer = planPart({ part, tanks: [tub], workshop });
      if (!answer.planned) throw new Error("not planned");
      const begun = start(part);
      const again = outlook(begun, plannedSettings(begun));
      near(again.current.value, answer.plan.currentA.mid);
      near(again.current.low ?? 0, answer.plan.currentA.low);
      near(again.current.high ?? 0, answer.plan.currentA.high);
      near(again.hours.p50, answer.plan.hours.p50);
      near(again.hours.p90, answer.plan.hours.p90);
      expect(again.warnings).toEqual(answer.plan.warnings);
    }
  });

  it("draws more with more salt, warmth, nearness, anode and pieces", () => {
    const begun = start(box);
    const own = plannedSettings(begun);
    const drawn = (changed: Partial<typeof own>): number =>
      outlook(begun, { ...own, ...changed }).current.value;
    const before = drawn({});
    expect(drawn({ doseGPerL: own.doseGPerL * 2 })).toBeGreaterThan(before);
    expect(drawn({ temperatureC: own.temperatureC + 10 })).toBeGreaterThan(before);
    expect(drawn({ distanceMm: own.distanceMm * 2 })).toBeLessThan(before);
    expect(drawn({ anodeAreaM2: own.anodeAreaM2 / 4 })).toBeLessThan(before);
    expect(drawn({ pieces: 3 })).toBeGreaterThan(before);
    expect(drawn({ pieces: 3 })).toBeLessThan(3 * before);
  });

  it("shortens the inside with an inner anode, and only that", () => {
    const begun = start(box);
    const own = plannedSettings(begun);
    const without = outlook(begun, own);
    const hung = outlook(begun, { ...own, innerAnode: true });
    expect(hung.hours.p50).toBeLessThan(without.hours.p50);
    expect(hung.current.value).toBe(without.current.value);
  });

  it("judges another supply by its own limits", () => {
    const begun = start();
    const own = plannedSettings(begun);
    const held = outlook(begun, { ...own, doseGPerL: 40, supply: { ...bench, currentLimitA: 2 } });
    expect(held.current.value).toBe(2);
    expect(held.figures.map(({ name }) => name)).toContain("hydrogen an hour");
  });

  it("gives the strongest dose of this supply and the trade's usual one: 4 to 6 mL of powder a litre", () => {
    const begun = start();
    const { strongestGPerL, usualGPerL } = outlook(begun, plannedSettings(begun));
    // Light soda ash, 0.61 g/mL: 2.44 to 3.66 g/L
    expect(usualGPerL.low).toBeCloseTo(2.44, 9);
    expect(usualGPerL.high).toBeCloseTo(3.66, 9);
    const atStrongest = outlook(begun, { ...plannedSettings(begun), doseGPerL: strongestGPerL });
    expect(atStrongest.current.high).toBeLessThanOrEqual(16 * (1 + 1e-6)); // 20 A × 0.8
  });

  it("has hydrogen, air and heat follow the current", () => {
    const begun = start();
    const { figures, current } = outlook(begun, plannedSettings(begun));
    const value = (name: string): number =>
      figures.find((figure) => figure.name === name)?.value ?? NaN;
    // 0.37611 L/A·h at 0 °C times 0.0037 per kelvin: 0.4457 L/A·h at 18 °C
    expect(value("hydrogen an hour") / current.value).toBeCloseTo(0.4457, 3);
    expect(value("fresh air")).toBeCloseTo(0.05 * (current.high ?? 0), 9);
    expect(figures.every(({ formula, inputs }) => formula !== "" && inputs.length > 0)).toBe(true);
  });

  it("stays in the tables up to the most that dissolves, and refuses more", () => {
    const begun = start();
    fc.assert(
      fc.property(fc.double({ min: 0, max: 50, noNaN: true }), (temperatureC) => {
        const most = mostDose(begun, temperatureC);
        const at = (doseGPerL: number) => () =>
          outlook(begun, { ...plannedSettings(begun), temperatureC, doseGPerL });
        expect(at(most * 0.999)).not.toThrow();
        expect(at(most * 1.01)).toThrow(RangeError);
      }),
    );
  });

  it("goes by what the shop has learned, as the plan does", () => {
    const learned = {
      runs: 7,
      pooled: 0.3,
      range: ({ p10, p50, p90 }: { p10: number; p50: number; p90: number }) => ({
        p10: p10 * 1.2,
        p50: p50 * 1.5,
        p90: p90 * 1.4,
      }),
    };
    const answer = planPart({ part: box, tanks: [tub], workshop, learned });
    const begun = startWhatIf(box, tub, workshop, learned);
    if (!answer.planned || typeof begun === "string") throw new Error("not planned");
    const again = outlook(begun, plannedSettings(begun));
    near(again.hours.p10, answer.plan.hours.p10);
    near(again.hours.p50, answer.plan.hours.p50);
    near(again.hours.p90, answer.plan.hours.p90);
    expect(again.figures[0]).toMatchObject({
      name: "hours in the bath",
      standing: "measured here",
    });
    near(again.figures[0]?.value ?? 0, answer.plan.hours.p50);
  });

  it("counts both dips of a part that goes in end for end", () => {
    const rail = { ...casting, lengthMm: 450, widthMm: 40, heightMm: 20, massG: 2000 };
    const answer = planPart({ part: rail, tanks: [bucket], workshop });
    if (!answer.planned) throw new Error("not planned");
    expect(answer.plan.dips).toBe(2);
    const begun = start(rail, bucket);
    near(outlook(begun, plannedSettings(begun)).hours.p50, answer.plan.hours.p50);
  });

  it("refuses settings that cannot be", () => {
    const begun = start();
    const own = plannedSettings(begun);
    expect(() => outlook(begun, { ...own, pieces: 0 })).toThrow(/pieces must be from 1 to 999/);
    expect(() => outlook(begun, { ...own, distanceMm: 0 })).toThrow(
      /distance between part and anode.*mm/,
    );
    expect(() => outlook(begun, { ...own, anodeAreaM2: 0 })).toThrow(/m²/);
    expect(() => outlook(begun, { ...own, temperatureC: 51 })).toThrow(/temperature must.*°C/);
    expect(() => outlook(begun, { ...own, doseGPerL: -1 })).toThrow(/g/);
  });

  it("says why where the tank does not take the part", () => {
    expect(startWhatIf({ ...casting, lengthMm: 5000 }, tub, workshop)).toMatch(/\w+/);
    expect(startWhatIf(casting, { ...tub, anode: null }, workshop)).toBe("No anode hangs in it.");
  });
});
