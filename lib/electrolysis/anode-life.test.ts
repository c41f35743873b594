import { describe, expect, it } from "vitest";
import { type AnodeUse, workedAnodeLife } from "./anode-life";

const STEADY: AnodeUse = {
  initialMassG: 4000,
  replaceAtShare: 0.5,
  lostG: 1000,
  lostErrorG: 0,
  weeklyLossesG: [50, 50, 50, 50],
  lossFactorErrorShare: 0,
};

describe("workedAnodeLife", () => {
  it("divides what may still go by the weekly loss, with no band where nothing is uncertain", () => {
    const life = workedAnodeLife(STEADY);
    expect(life).toMatchObject({ value: 20, unit: "weeks", low: 20, high: 20 });
  });

  it("gives half the weeks for twice the use", () => {
    const twice = workedAnodeLife({ ...STEADY, weeklyLossesG: [100, 100, 100, 100] });
    expect(twice?.value).toBe(10);
  });

  it("counts idle weeks as weeks", () => {
    const life = workedAnodeLife({ ...STEADY, weeklyLossesG: [100, 0, 100, 0] });
    expect(life?.value).toBe(20);
    expect(life?.low).toBeLessThan(20);
    expect(life?.high).toBeGreaterThan(20);
  });

  it("widens the band by the loss factor's error, symmetrically as a ratio", () => {
    const life = workedAnodeLife({ ...STEADY, lossFactorErrorShare: 0.5 });
    expect(life?.high).toBeCloseTo(20 * Math.exp(1.2816 * 0.5), 6);
    expect((life?.low ?? 0) * (life?.high ?? 0)).toBeCloseTo(400, 6);
  });

  it("is due at once when the share is gone, and has no date while it does not wear", () => {
    expect(workedAnodeLife({ ...STEADY, lostG: 2100 })?.value).toBe(0);
    expect(workedAnodeLife({ ...STEADY, lostG: 2100, weeklyLossesG: [] })?.value).toBe(0);
    expect(workedAnodeLife({ ...STEADY, weeklyLossesG: [0, 0] })).toBeNull();
    expect(workedAnodeLife({ ...STEADY, weeklyLossesG: [] })).toBeNull();
  });

  it("reckons with what is booked: a busy week brings the date nearer, a quiet one does not put it off", () => {
    expect(workedAnodeLife({ ...STEADY, bookedLossesG: [550] })?.value).toBe(10);
    expect(workedAnodeLife({ ...STEADY, bookedLossesG: [0, 10] })?.value).toBe(20);
    expect(
      workedAnodeLife({ ...STEADY, weeklyLossesG: [], bookedLossesG: [500, 500] })?.value,
    ).toBe(2);
  });

  it("goes by the least thickness where the sheet is worn before its share is gone", () => {
    const sheet = (leastMm: number) =>
      workedAnodeLife({ ...STEADY, thickness: { newMm: 2, leastMm } })?.value;
    expect(sheet(1.2)).toBeCloseTo((0.4 * 4000 - 1000) / 50, 9);
    expect(sheet(0.5)).toBe(20);
    expect(sheet(1.8)).toBe(0);
    const shown = workedAnodeLife({ ...STEADY, thickness: { newMm: 2, leastMm: 1.2 } });
    expect(shown?.inputs.filter(({ unit }) => unit === "mm").map(({ value }) => value)).toEqual([
      2, 1.2,
    ]);
  });

  it("widens by the error of what was lost, as a share of what is left", () => {
    const life = workedAnodeLife({ ...STEADY, lostErrorG: 100 });
    expect(life?.high).toBeCloseTo(20 * Math.exp(1.2816 * 0.1), 9);
  });

  it("refuses what cannot be", () => {
    expect(() => workedAnodeLife({ ...STEADY, thickness: { newMm: 0, leastMm: 0 } })).toThrow(
      /thickness when new/,
    );
    expect(() => workedAnodeLife({ ...STEADY, thickness: { newMm: 2, leastMm: 2.1 } })).toThrow(
      /least thickness must be from 0 to 2 mm, got 2.1/,
    );
    expect(() => workedAnodeLife({ ...STEADY, replaceAtShare: 1.1 })).toThrow(/share lost/);
    expect(() => workedAnodeLife({ ...STEADY, initialMassG: 0 })).toThrow(/mass when new/);
    expect(() => workedAnodeLife({ ...STEADY, lostErrorG: -1 })).toThrow(/error of what was lost/);
    expect(() => workedAnodeLife({ ...STEADY, lossFactorErrorShare: -1 })).toThrow(
      /error of the loss factor/,
    );
    expect(() => workedAnodeLife({ ...STEADY, lostG: -1 })).toThrow(/lost so far/);
    expect(() => workedAnodeLife({ ...STEADY, replaceAtShare: 0 })).toThrow(/share lost/);
    expect(() => workedAnodeLife({ ...STEADY, weeklyLossesG: [Number.NaN] })).toThrow(
      /weekly loss/,
    );
  });
});
