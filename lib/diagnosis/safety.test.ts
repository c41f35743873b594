import type { Supply } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import type { FindingCode, Limits, RunReading } from "./expectation";
import { safetyFindings } from "./safety";

const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13,
  innerResistanceOhm: 0.15,
  ratedCurrentA: 10,
  dutyFactor: 0.8,
};
const bench: Supply = { kind: "BENCH", voltageV: 15, currentLimitA: 5, dutyFactor: 1 };
const battery: Supply = {
  kind: "BATTERY",
  openVoltageV: 12.6,
  innerResistanceOhm: 0.02,
  capacityAh: 60,
};
const limits: Limits = {
  supply: charger,
  currentLowA: 2,
  currentHighA: 4,
  workingLevelMm: 300,
};
const reading = (change: Partial<RunReading> = {}): RunReading => ({
  atMs: 0,
  voltsV: 12.5,
  currentA: 3,
  temperatureC: 20,
  levelMm: 300,
  ...change,
});
const codes = (
  change: Partial<RunReading>,
  other: Partial<Limits> = {},
): readonly (readonly [FindingCode, string])[] =>
  safetyFindings(reading(change), { ...limits, ...other }).map(
    ({ code, severity }) => [code, severity] as const,
  );

describe("safetyFindings", () => {
  it("is silent when nothing presses, or was not read", () => {
    expect(codes({})).toEqual([]);
    expect(codes({ temperatureC: null, levelMm: null })).toEqual([]);
    expect(codes({ currentA: 0 })).toEqual([]);
  });

  it.each<[FindingCode, Partial<RunReading>]>([
    ["REVERSED", { currentA: -0.1 }],
    ["REVERSED", { voltsV: -0.1 }],
    ["TOUCHING", { currentA: 6, voltsV: 7.79 }],
    ["TOUCHING", { currentA: 2, voltsV: 1.49 }],
  ])("says %s at once", (code, change) => {
    expect(codes(change)).toEqual([[code, "look now"]]);
  });

  it("calls it no touch while the volts hold, or the current is small", () => {
    expect(codes({ currentA: 6, voltsV: 7.8 })).toEqual([]);
    expect(codes({ currentA: 5.99, voltsV: 7 })).toEqual([]);
    expect(codes({ currentA: 1.99, voltsV: 1 })).toEqual([]);
    expect(codes({ currentA: 2, voltsV: 1.5 })).toEqual([]);
    expect(codes({ currentA: 0.05, voltsV: 1 }, { currentLowA: 0.01 })).toEqual([]);
  });

  it("sees a touch on a supply that holds its current by the volts alone", () => {
    const held = { supply: bench, currentLowA: 5, currentHighA: 5 };
    expect(codes({ currentA: 5, voltsV: 0.6 }, held)).toEqual([["TOUCHING", "look now"]]);
    expect(codes({ currentA: 5, voltsV: 9 }, held)).toEqual([]);
  });

  it("warns above what the supply can give for hours, and at once above its nameplate", () => {
    const wide = { currentHighA: 20 };
    expect(codes({ currentA: 8 }, wide)).toEqual([]);
    expect(codes({ currentA: 8.01 }, wide)).toEqual([["OVERLOAD", "watch"]]);
    expect(codes({ currentA: 10 }, wide)).toEqual([["OVERLOAD", "watch"]]);
    expect(codes({ currentA: 10.1 }, wide)).toEqual([["OVERLOAD", "look now"]]);
    expect(codes({ currentA: 5.1 }, { ...wide, supply: bench })).toEqual([
      ["OVERLOAD", "look now"],
    ]);
    expect(codes({ currentA: 6.1 }, { ...wide, supply: battery })).toEqual([
      ["OVERLOAD", "look now"],
    ]);
  });

  it.each([
    [4.9, [["COLD", "watch"]]],
    [5, []],
    [40, []],
    [41, [["HOT", "watch"]]],
    [50, [["HOT", "watch"]]],
    [50.1, [["HOT", "look now"]]],
  ])("judges a bath of %d °C", (temperatureC, found) => {
    expect(codes({ temperatureC })).toEqual(found);
  });

  it.each([
    [291, []],
    [290, [["LEVEL_LOW", "watch"]]],
    [271, [["LEVEL_LOW", "watch"]]],
    [270, [["LEVEL_LOW", "look now"]]],
  ])("judges a level of %d mm under a mark of 300 mm", (levelMm, found) => {
    expect(codes({ levelMm })).toEqual(found);
  });

  it("says with numbers what was seen, and what to do with the supply off", () => {
    const [touch, low] = safetyFindings(reading({ currentA: 9, voltsV: 5, levelMm: 260 }), limits);
    expect(touch?.seen).toBe(
      "9.0 A at only 5.0 V; at most 4.0 A expected, and the supply gives 13.0 V unloaded.",
    );
    expect(touch?.nextCheck).toMatch(/^Switch the supply off at the wall.+part them by \{50 mm\}/);
    expect(low?.seen).toBe("{260 mm}, {40 mm} under the working level.");
    expect(low?.nextCheck).toMatch(/plain water/);
  });

  it("refuses a band that is none", () => {
    for (const band of [
      { currentLowA: 5, currentHighA: 4 },
      { currentLowA: -1, currentHighA: 4 },
      { currentLowA: 1, currentHighA: Number.POSITIVE_INFINITY },
    ]) {
      expect(() => safetyFindings(reading(), { ...limits, ...band })).toThrow(
        "expected current must be a band 0 ≤ low ≤ high in A",
      );
    }
    expect(codes({ currentA: 0.1 }, { currentLowA: 0, currentHighA: 0.2 })).toEqual([]);
  });
});
