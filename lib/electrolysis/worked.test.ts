import {
  ampereHours,
  amperes,
  celsius,
  kilowattHours,
  STANDINGS,
  volts,
  type Worked,
} from "@/lib/units";
import { describe, expect, it } from "vitest";
import type { Cell } from "./operating-point";
import { workedConductivity, workedOperatingPoint } from "./worked";
import {
  workedAnodeLoss,
  workedBathHeat,
  workedEnergyAtWall,
  workedHydrogen,
  workedVentilation,
} from "./worked-gas";

const bath = { carbonateMassG: 100, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 };
const cell: Cell = {
  supply: { kind: "BENCH", voltageV: 12, currentLimitA: 20, dutyFactor: 0.8 },
  conductivitySPerM: 0.5,
  shapeLengthM: 0.6,
  partAreaM2: 0.1,
  anodeAreaM2: 0.05,
  leadOhm: 0.02,
  contactOhm: 0.02,
  dissolvingShare: 0.5,
};
const all: readonly Worked[] = [
  workedConductivity(bath),
  workedOperatingPoint(cell),
  workedHydrogen(ampereHours(10), celsius(20)),
  workedVentilation(amperes(10)),
  workedAnodeLoss(ampereHours(10), { mean: 0.15, error: 0.15 }),
  workedBathHeat(amperes(5), volts(12)),
  workedEnergyAtWall(kilowattHours(0.12), 0.75),
];

describe("worked figures", () => {
  it.each(all)("$name lies in its own range and can be stored", (worked) => {
    expect(worked.low ?? worked.value).toBeLessThanOrEqual(worked.value);
    expect(worked.high ?? worked.value).toBeGreaterThanOrEqual(worked.value);
    expect(JSON.parse(JSON.stringify(worked))).toEqual(worked);
    expect(worked.inputs.length).toBeGreaterThan(1);
  });

  it.each(all)("$name is no firmer than its weakest calculated input", (worked) => {
    const rank = (standing: Worked["standing"]): number => STANDINGS.indexOf(standing);
    const weakest = Math.max(...worked.inputs.map(({ standing }) => rank(standing)));
    // What the shop typed in is its own fact, so it does not weaken the figure.
    if (weakest > rank("entered here")) expect(rank(worked.standing)).toBe(weakest);
    expect(worked.source).toBeTruthy();
  });

  it("show conductivity ten per cent either way, twenty in the cold", () => {
    const warm = workedConductivity(bath);
    expect(warm.low).toBeCloseTo(0.9 * warm.value, 12);
    expect(warm.high).toBeCloseTo(1.1 * warm.value, 12);
    const cold = workedConductivity({ ...bath, temperatureC: 2 });
    expect(cold.low).toBeCloseTo(0.8 * cold.value, 12);
  });

  it("say a mixed bath rests on our own rule", () => {
    const mixed = workedConductivity({ ...bath, bicarbonateMassG: 50 });
    expect(mixed.standing).toBe("assumption");
    expect(workedConductivity(bath).standing).toBe("handbook");
    const gains = (worked: Worked): number =>
      worked.inputs.filter(({ symbol }) => symbol === "α").length;
    expect([gains(workedConductivity(bath)), gains(mixed)]).toEqual([1, 2]);
  });

  it("name the ventilation rule as a transfer and defer to local codes", () => {
    expect(workedVentilation(amperes(10))).toMatchObject({ value: 0.5, unit: "m³/h" });
    expect(workedVentilation(amperes(10)).note).toMatch(/transfer.*Local codes/s);
  });

  it("keep the anode's loss between nothing and all of the charge", () => {
    const loss = workedAnodeLoss(ampereHours(10), { mean: 0.9, error: 0.5 });
    expect(loss.high).toBeCloseTo(10.418, 3);
    expect(loss.low).toBeCloseTo(4.167, 3);
    expect(() => workedAnodeLoss(ampereHours(10), { mean: 0.5, error: -0.1 })).toThrow("error");
  });

  it("draw more from the wall than reaches the tank", () => {
    expect(workedEnergyAtWall(kilowattHours(0.12), 0.75).value).toBeCloseTo(0.16, 12);
    expect(() => workedEnergyAtWall(kilowattHours(1), 0)).toThrow("efficiency");
  });
});
