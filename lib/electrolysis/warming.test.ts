import { describe, expect, it } from "vitest";
import { hours } from "@/lib/units";
import { bathTemperature, HEAT_LOSS_W_PER_M2_K, type WarmBath, workedWarming } from "./warming";

const bath: WarmBath = { heatW: 100, volumeL: 100, surfaceM2: 1, roomC: 18 };

describe("temperature of a bath in a run", () => {
  it("begins at the room's, warming by 0.86 K/h for 100 W in 100 L", () => {
    expect(bathTemperature(bath, hours(0))).toBe(18);
    const slope = (bathTemperature(bath, hours(0.01)) - 18) / 0.01;
    expect(slope).toBeCloseTo(0.861, 2);
  });

  it("ends where the room takes what the current gives: P/(U·A) above it", () => {
    expect(bathTemperature(bath, hours(1000))).toBeCloseTo(18 + 100 / HEAT_LOSS_W_PER_M2_K, 6);
    // After one time constant, m·c_p/(U·A) = 418 kJ/K / 10 W/K = 11.61 h, it has come 63.2 % of the way.
    expect(bathTemperature(bath, hours(11.6111))).toBeCloseTo(18 + 10 * 0.63212, 3);
  });

  it("cools where the cell takes heat up, and loses less through a smaller wall", () => {
    expect(bathTemperature({ ...bath, heatW: -10 }, hours(10))).toBeLessThan(18);
    expect(bathTemperature({ ...bath, surfaceM2: 0.5 }, hours(10))).toBeGreaterThan(
      bathTemperature(bath, hours(10)),
    );
  });

  it("shows a band from lively to still air", () => {
    const worked = workedWarming(bath, hours(8));
    expect(worked.value).toBe(bathTemperature(bath, hours(8)));
    expect(worked.low).toBe(bathTemperature(bath, hours(8), 20));
    expect(worked.high).toBe(bathTemperature(bath, hours(8), 5));
    const warming = worked.inputs.find(({ name }) => name === "warming before any loss");
    expect(warming?.value).toBeCloseTo(0.861, 3);
  });

  it("refuses what cannot be", () => {
    expect(() => bathTemperature({ ...bath, surfaceM2: 0 }, hours(1))).toThrow(
      /surface of the tank.*m²/,
    );
    expect(() => bathTemperature({ ...bath, heatW: Number.NaN }, hours(1))).toThrow(/heat must.*W/);
    expect(() => bathTemperature({ ...bath, roomC: 61 }, hours(1))).toThrow(
      /room temperature.*°C, got 61/,
    );
    expect(() => bathTemperature(bath, hours(-1))).toThrow(/duration.*h/);
    expect(() => bathTemperature(bath, hours(1), 0)).toThrow(/heat loss/);
  });
});
