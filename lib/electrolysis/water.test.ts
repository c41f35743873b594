import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ampereHours, celsius, hours } from "@/lib/units";
import {
  dewPoint,
  evaporation,
  type OpenWater,
  vapourPressure,
  workedDewPoint,
  workedTopUp,
} from "./water";

const water: OpenWater = { surfaceM2: 0.3, bathC: 25, airC: 18, humidityPercent: 60 };

describe("dew point", () => {
  it("is the inverse of the vapour pressure, at any humidity", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -20, max: 60, noNaN: true }),
        fc.double({ min: 20, max: 100, noNaN: true }),
        (air, humidity) => {
          const dew = dewPoint(celsius(air), humidity);
          expect(dew).toBeLessThanOrEqual(air + 1e-9);
          expect(vapourPressure(dew)).toBeCloseTo(
            (vapourPressure(celsius(air)) * humidity) / 100,
            6,
          );
        },
      ),
    );
  });

  it("is the air's temperature in moist air, and refuses dry air and more than all", () => {
    expect(dewPoint(celsius(18), 100)).toBeCloseTo(18, 9);
    expect(() => dewPoint(celsius(18), 0)).toThrow(/humidity must be from .* to 100 %, got 0/);
    expect(() => dewPoint(celsius(18), 101)).toThrow(/humidity.*got 101/);
    expect(() => vapourPressure(celsius(101))).toThrow(
      /temperature must be from -40 to 100 °C, got 101/,
    );
    expect(() => vapourPressure(celsius(-41))).toThrow(/temperature/);
  });

  it("explains itself", () => {
    const worked = workedDewPoint(celsius(18), 60);
    expect(worked.value).toBeCloseTo(dewPoint(celsius(18), 60), 12);
    expect(worked.unit).toBe("°C");
    expect(worked.inputs.map(({ value }) => value)).toEqual([18, 60]);
  });
});

describe("evaporation", () => {
  it("goes with the surface and with the drop in vapour pressure", () => {
    const one = evaporation(water);
    expect(evaporation({ ...water, surfaceM2: 0.6 })).toBeCloseTo(2 * one, 12);
    expect(evaporation({ ...water, bathC: 35 })).toBeGreaterThan(2 * one);
    expect(evaporation({ ...water, humidityPercent: 90 })).toBeLessThan(one);
    expect(evaporation({ ...water, surfaceM2: 0 })).toBe(0);
  });

  it("stops where the air is the moister", () => {
    expect(evaporation({ surfaceM2: 1, bathC: 10, airC: 30, humidityPercent: 90 })).toBe(0);
    expect(evaporation({ surfaceM2: 1, bathC: 18, airC: 18, humidityPercent: 100 })).toBe(0);
  });

  it("refuses what cannot be", () => {
    expect(() => evaporation({ ...water, surfaceM2: -1 })).toThrow(/surface of the bath.*m²/);
    expect(() => evaporation({ ...water, bathC: 101 })).toThrow(/bath temperature.*°C, got 101/);
    expect(() => evaporation({ ...water, humidityPercent: 101 })).toThrow(/humidity.*%, got 101/);
  });
});

describe("top-up after a run", () => {
  it("is what evaporates and what is split", () => {
    const worked = workedTopUp(water, hours(10), ampereHours(30), 0.15);
    const evaporated = evaporation(water) * 10;
    // 0.33608 g/A·h for oxygen, and as much again for the share that dissolves iron
    const split = (30 * 0.33608 * 1.15) / 1000;
    expect(worked.value).toBeCloseTo(evaporated + split, 5);
    expect(worked.low).toBeCloseTo(evaporated / 2 + split, 5);
    expect(worked.high).toBeCloseTo(1.5 * evaporated + split, 5);
    const shown = new Map(worked.inputs.map(({ name, value }) => [name, value]));
    expect(shown.get("evaporated")).toBeCloseTo(evaporated, 9);
    expect(shown.get("split by the current")).toBeCloseTo(split, 6);
    expect(shown.get("hours")).toBe(10);
    expect(shown.get("open surface")).toBe(0.3);
    expect(shown.get("vapour pressure, bath less air")).toBeCloseTo(
      vapourPressure(celsius(25)) - 0.6 * vapourPressure(celsius(18)),
      9,
    );
  });

  it("refuses a negative time", () => {
    expect(() => workedTopUp(water, hours(-1), ampereHours(30), 0)).toThrow(/duration.*h/);
  });
});
