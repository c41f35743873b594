import { type Supply } from "@/lib/electrolysis";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { diagnose } from "./diagnose";
import type { Expectation, FindingCode, RunReading } from "./expectation";

const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13,
  innerResistanceOhm: 0.15,
  ratedCurrentA: 10,
  dutyFactor: 0.8,
};
const bench: Supply = { kind: "BENCH", voltageV: 15, currentLimitA: 5, dutyFactor: 1 };
const expected: Expectation = {
  currentLowA: 2,
  currentHighA: 4,
  supply: charger,
  workingLevelMm: 300,
  bathChargeAhPerL: 2,
};
const MINUTE = 60_000;
const reading = (change: Partial<RunReading> = {}): RunReading => ({
  atMs: 0,
  voltsV: 12.5,
  currentA: 3,
  temperatureC: 20,
  levelMm: 300,
  ...change,
});
const codes = (
  readings: readonly RunReading[],
  change: Partial<Expectation> = {},
): readonly FindingCode[] => diagnose(readings, { ...expected, ...change }).map(({ code }) => code);

describe("diagnose", () => {
  it("is silent without readings and when all is as expected", () => {
    expect(codes([])).toEqual([]);
    expect(codes([reading()])).toEqual([]);
    expect(codes([reading({ temperatureC: null, levelMm: null })])).toEqual([]);
  });

  it.each<[FindingCode, Partial<RunReading>]>([
    ["OPEN_LEAD", { currentA: 0, voltsV: 13 }],
    ["NO_SUPPLY", { currentA: 0, voltsV: 0 }],
    ["SHORT", { currentA: 30, voltsV: 5 }],
    ["REVERSED", { currentA: -3 }],
    ["BATH_WEAK", { currentA: 1 }],
    ["BATH_STRONG", { currentA: 5 }],
    ["OVERLOAD", { currentA: 9 }],
    ["HOT", { temperatureC: 45 }],
    ["COLD", { temperatureC: 2 }],
    ["LEVEL_LOW", { levelMm: 285 }],
  ])("finds %s", (code, change) => {
    expect(codes([reading(change)])).toEqual([code]);
  });

  it("sees a touch on a supply that holds its current by the volts alone", () => {
    const held = { supply: bench, currentLowA: 5, currentHighA: 5 };
    expect(codes([reading({ currentA: 5, voltsV: 0.6 })], held)).toEqual(["SHORT"]);
    expect(codes([reading({ currentA: 5, voltsV: 9 })], held)).toEqual([]);
  });

  it("calls low current in a well-used bath spent, not weak", () => {
    expect(codes([reading({ currentA: 1 })], { bathChargeAhPerL: 25 })).toEqual(["BATH_SPENT"]);
  });

  it("sees a steady fall, in whatever order the readings come", () => {
    const fall = [
      reading({ atMs: 60 * MINUTE, currentA: 2.1 }),
      reading({ atMs: 0, currentA: 3.6 }),
      reading({ atMs: 30 * MINUTE, currentA: 2.8 }),
    ];
    const [finding] = diagnose(fall, expected);
    expect(finding).toMatchObject({ code: "FALLING", severity: "watch" });
    expect(finding?.seen).toBe("From 3.6 A to 2.1 A in 60 min at 12.5 V.");
  });

  it("wants a fall looked at now once less than half the least expected flows", () => {
    const to = (currentA: number): string | undefined =>
      diagnose(
        [3, 2, currentA].map((amps, index) =>
          reading({ currentA: amps, atMs: index * 30 * MINUTE }),
        ),
        expected,
      )[0]?.severity;
    expect(to(1.01)).toBe("watch");
    expect(to(0.99)).toBe("look now");
  });

  it("does not call it a fall when it is short, uneven, or the volts fell too", () => {
    const run = (currents: readonly number[], minutes: number, voltsV = 12.5): RunReading[] =>
      currents.map((currentA, index) =>
        reading({ currentA, atMs: index * minutes * MINUTE, ...(index > 0 ? { voltsV } : {}) }),
      );
    expect(codes(run([4, 3, 2.2], 30))).toEqual(["FALLING"]);
    expect(codes(run([4, 3, 2.2], 5))).toEqual([]);
    expect(codes(run([4, 2, 2.2], 30))).toEqual([]);
    expect(codes(run([4, 3, 2.2], 30, 9))).toEqual([]);
    expect(codes(run([2.4, 2.3, 2.2], 30))).toEqual([]);
  });

  it("puts what presses first, and says how much is wrong", () => {
    const findings = diagnose([reading({ currentA: 1, temperatureC: 55, levelMm: 260 })], expected);
    expect(findings.map(({ code, severity }) => [code, severity])).toEqual([
      ["HOT", "look now"],
      ["LEVEL_LOW", "look now"],
      ["BATH_WEAK", "watch"],
    ]);
    expect(findings[1]?.seen).toBe("260 mm, 40 mm under the working level.");
  });

  it("raises overload from watch to look now above the nameplate", () => {
    const severity = (currentA: number): string | undefined =>
      diagnose([reading({ currentA })], { ...expected, currentHighA: 20 })[0]?.severity;
    expect(severity(8)).toBeUndefined();
    expect(severity(9)).toBe("watch");
    expect(severity(11)).toBe("look now");
  });

  it("judges the latest reading, not an older one", () => {
    expect(codes([reading({ atMs: 2, currentA: 3 }), reading({ atMs: 1, currentA: 0 })])).toEqual(
      [],
    );
  });

  it("always says to switch off first when it is to be looked at now", () => {
    const anyReading = fc.record({
      atMs: fc.constant(0),
      voltsV: fc.double({ min: -15, max: 15, noNaN: true }),
      currentA: fc.double({ min: -5, max: 50, noNaN: true }),
      temperatureC: fc.option(fc.double({ min: -5, max: 90, noNaN: true })),
      levelMm: fc.option(fc.double({ min: 0, max: 400, noNaN: true })),
    });
    fc.assert(
      fc.property(anyReading, (any) => {
        const findings = diagnose([any], expected);
        for (const { severity, nextCheck } of findings) {
          if (severity === "look now") expect(nextCheck).toMatch(/^Switch the supply off/);
        }
        const order = findings.map(({ severity }) => severity);
        expect(order).toEqual([...order].sort());
      }),
    );
  });

  it("refuses a band that is none", () => {
    expect(() => diagnose([], { ...expected, currentLowA: 5 })).toThrow(
      "0 ≤ low ≤ high in A, got 5 to 4",
    );
  });
});
