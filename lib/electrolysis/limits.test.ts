import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import {
  amperes,
  amperesPerSquareMetre,
  celsius,
  grams,
  massPercent,
  metres,
  ohms,
  squareMillimetres,
  wireArea,
} from "@/lib/units";
import { type AnodeUse, workedAnodeLife } from "./anode-life";
import { bathStrength } from "./bath";
import { solutionDensity } from "./density";
import { weeksBand, weeksUntil } from "./forecast";
import { anodeBetween, CATHODE, overvoltage } from "./kinetics";
import { copperResistance, leadAmpacity, leadPairResistance, voltageDrop } from "./leads";
import { carbonateFromBicarbonate, gradeMass } from "./salts";
import { airflowNeeded, closedRoomHours } from "./ventilation";

const area = squareMillimetres(4);
const steady = { past: [20, 20], booked: [] };
const bath = { carbonateMassG: 100, bicarbonateMassG: 50, volumeL: 20, temperatureC: 20 };
const strengthOf = (change: Partial<typeof bath>) => () => bathStrength({ ...bath, ...change });

/** What is refused, and the name, the unit and the value that the error gives. */
const REFUSED: readonly (readonly [string, () => unknown, RegExp])[] = [
  ["a wire below nought", () => copperResistance(metres(-1), area), /wire length .*\(m\), got -1/],
  [
    "a wire of no section",
    () => copperResistance(metres(1), squareMillimetres(0)),
    /wire area .* mm², got 0/,
  ],
  [
    "a wire too hot",
    () => copperResistance(metres(1), area, celsius(151)),
    /wire temperature must be from -40 to 150 °C, got 151/,
  ],
  ["amps below nought", () => voltageDrop(amperes(-1), ohms(1)), /current .*\(A\), got -1/],
  ["ohms below nought", () => voltageDrop(amperes(1), ohms(-1)), /resistance .*\(Ω\), got -1/],
  ["soda below nought", strengthOf({ carbonateMassG: -1 }), /mass of carbonate .*\(g\), got -1/],
  [
    "bicarbonate below nought",
    strengthOf({ bicarbonateMassG: -1 }),
    /mass of bicarbonate .*\(g\), got -1/,
  ],
  ["salt in no water", strengthOf({ volumeL: 0 }), /volume of the bath .* L, got 0/],
  [
    "a bath stronger than the tables",
    strengthOf({ carbonateMassG: 9000, bicarbonateMassG: 0 }),
    /strength must be from 0 to [\d.]+ mass %, got \d+/,
  ],
  [
    "density beyond its table",
    () => solutionDensity("SODIUM_BICARBONATE", massPercent(90)),
    /strength must be from 0 to [\d.]+ mass %, got 90/,
  ],
  [
    "density of current below nought",
    () => overvoltage(amperesPerSquareMetre(-1), CATHODE),
    /current density .*\(A\/m²\), got -1/,
  ],
  ["an anode that more than dissolves", () => anodeBetween(1.1), /dissolving share .*\(share\)/],
  [
    "anhydrous salt below nought",
    () => gradeMass("SODA_MONOHYDRATE", grams(-1)),
    /mass of anhydrous salt .*\(g\), got -1/,
  ],
  [
    "less bicarbonate than none",
    () => carbonateFromBicarbonate(grams(-1)),
    /mass of bicarbonate .*\(g\), got -1/,
  ],
  ["air for amps below nought", () => airflowNeeded(amperes(-1)), /current .*\(A\), got -1/],
  [
    "no tank in series",
    () => airflowNeeded(amperes(1), 0),
    /tanks in series must be from 1 to 100 tanks, got 0/,
  ],
  [
    "a room of nothing",
    () => closedRoomHours(0, amperes(1), 0.01, celsius(20)),
    /room volume .* m³, got 0/,
  ],
  [
    "more hydrogen than air",
    () => closedRoomHours(30, amperes(1), 2, celsius(20)),
    /share of hydrogen .*\(share\), got 2/,
  ],
  [
    "gas of amps below nought",
    () => closedRoomHours(30, amperes(-1), 0.01, celsius(20)),
    /current .*\(A\), got -1/,
  ],
  ["less left than nothing", () => weeksUntil(-1, steady), /amount left .*weekly use\), got -1/],
  [
    "a week that gave back",
    () => weeksUntil(1, { past: [-1], booked: [] }),
    /weekly use .*a week.*got -1/,
  ],
  ["an error below nought", () => weeksBand(1, steady, -1), /error of the amount left .*of it/],
];

describe("electrolysis refuses, with the unit,", () => {
  it.each(REFUSED)("%s", (_what, call, words) => {
    expect(call).toThrow(RangeError);
    expect(call).toThrow(words);
  });
});

describe("copper leads", () => {
  it("have the resistivity of annealed copper, and 0.393 % more of it a kelvin", () => {
    // IEC 60028: 1/58 Ω·mm²/m at 20 °C.
    const at20 = copperResistance(metres(1), squareMillimetres(1));
    expect(at20).toBeCloseTo(1 / 58, 5);
    expect(copperResistance(metres(3), squareMillimetres(2))).toBeCloseTo(1.5 * at20, 12);
    const warm = copperResistance(metres(1), squareMillimetres(1), celsius(70));
    expect(warm / at20).toBeCloseTo(1 + 0.00393 * 50, 4);
    expect(leadPairResistance({ oneWayLengthM: 0.5, areaMm2: 1, temperatureC: 70 })).toBe(warm);
    expect(leadPairResistance({ oneWayLengthM: 0.5, areaMm2: 1 })).toBe(at20);
  });

  it("carry what the next thinner gauge of the table may", () => {
    const carries = (mm2: number) => leadAmpacity(squareMillimetres(mm2));
    expect(carries(2)).toBe(0);
    expect(carries(wireArea(14))).toBe(15);
    expect(carries(0.999 * wireArea(12))).toBe(15);
    expect(carries(wireArea(12))).toBe(20);
    expect(carries(4)).toBe(20);
    expect(carries(wireArea(10))).toBe(30);
    expect(carries(wireArea(4))).toBe(70);
    expect(carries(100)).toBe(70);
  });
});

describe("a closed room", () => {
  it("fills the slower the larger it is and the less current flows", () => {
    const hours = (roomM3: number, current: number) =>
      closedRoomHours(roomM3, amperes(current), 0.01, celsius(25));
    // 10 A give 0.187 mol/h of hydrogen, 4.57 L/h at 25 °C; 1 % of 30 m³ is 300 L.
    expect(hours(30, 10)).toBeCloseTo(65.7, 1);
    expect(hours(60, 10)).toBeCloseTo(2 * hours(30, 10), 9);
    expect(hours(30, 20)).toBeCloseTo(hours(30, 10) / 2, 9);
    expect(hours(30, 0)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("what is never used", () => {
  it("is not used up, unless it is booked to be", () => {
    expect(weeksUntil(10, { past: [], booked: [] })).toBe(Number.POSITIVE_INFINITY);
    expect(weeksUntil(10, { past: [0, 0], booked: [4] })).toBe(Number.POSITIVE_INFINITY);
    expect(weeksUntil(10, { past: [], booked: [4, 12] })).toBe(1.5);
    expect(weeksBand(10, { past: [], booked: [] }, 0.1)).toBeNull();
  });
});

describe("working of an anode's life", () => {
  const use: AnodeUse = {
    initialMassG: 4000,
    replaceAtShare: 0.5,
    lostG: 1000.0123,
    lostErrorG: 10,
    weeklyLossesG: [50, 52],
    lossFactorErrorShare: 0.1,
  };
  const input = (change: Partial<AnodeUse>, name: RegExp) => {
    const worked = workedAnodeLife({ ...use, ...change });
    if (!worked) throw new Error("no life");
    expectWholeFigure(worked);
    return worked.inputs.filter((one) => name.test(one.name)).map((one) => [one.name, one.value]);
  };

  it("adds up what is booked, and says over how many weeks", () => {
    expect(input({ bookedLossesG: [30, 12] }, /booked/)).toEqual([
      ["loss booked in the next 2 weeks", 42],
    ]);
    expect(input({}, /booked/)).toEqual([["loss booked in the next 0 weeks", 0]]);
  });

  it("names a sheet's thickness only where it is known, and rounds what was weighed", () => {
    expect(input({}, /thickness/)).toEqual([]);
    expect(input({ thickness: { newMm: 4, leastMm: 1 } }, /thickness/)).toEqual([
      ["thickness when new", 4],
      ["least thickness", 1],
    ]);
    expect(input({}, /lost so far/)).toEqual([["lost so far", 1000]]);
  });
});
