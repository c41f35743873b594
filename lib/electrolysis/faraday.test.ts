import { ampereHours, amperes, celsius, hours, litres, volts, watts } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  anodeMassDissolved,
  bathHeat,
  chargePassed,
  electricalEnergy,
  heatingRate,
  hydrogenMass,
  hydrogenVolume,
  oxygenMass,
  oxygenVolume,
  waterSplit,
  WATER_THERMONEUTRAL_V,
} from "./faraday";

const charge = fc.double({ min: 0, max: 1e4, noNaN: true }).map(ampereHours);
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("Faraday's law", () => {
  it("gives the same for half the current in twice the time", () => {
    expect(chargePassed(amperes(2), hours(6))).toBe(chargePassed(amperes(4), hours(3)));
  });

  it("conserves mass: water split is hydrogen and oxygen", () => {
    fc.assert(
      fc.property(charge, (q) => {
        expect(hydrogenMass(q) + oxygenMass(q)).toBeCloseTo(waterSplit(q), 3);
      }),
    );
  });

  it("makes twice as much hydrogen as oxygen", () => {
    fc.assert(
      fc.property(charge, (q) => {
        expect(hydrogenVolume(q, celsius(20))).toBeCloseTo(2 * oxygenVolume(q, celsius(20)), 6);
      }),
    );
  });

  it("is linear in the share that dissolves iron", () => {
    fc.assert(
      fc.property(charge, share, (q, phi) => {
        expect(anodeMassDissolved(q, phi)).toBeCloseTo(phi * anodeMassDissolved(q), 6);
      }),
    );
  });

  it("gives nothing for no charge", () => {
    expect(anodeMassDissolved(ampereHours(0))).toBe(0);
    expect(hydrogenVolume(ampereHours(0), celsius(20))).toBe(0);
    expect(waterSplit(ampereHours(0))).toBe(0);
  });

  it("refuses impossible arguments", () => {
    expect(() => anodeMassDissolved(ampereHours(-1))).toThrow("charge");
    expect(() => anodeMassDissolved(ampereHours(1), 1.1)).toThrow(
      "dissolving share must be from 0",
    );
    expect(() => hydrogenVolume(ampereHours(1), celsius(-274))).toThrow("absolute temperature");
    expect(() => hydrogenVolume(ampereHours(1), celsius(20), 0)).toThrow("pressure");
    expect(() => chargePassed(amperes(1), hours(Number.POSITIVE_INFINITY))).toThrow("duration");
  });
});

describe("heat and energy", () => {
  it("leaves no heat at the thermoneutral voltage", () => {
    expect(bathHeat(amperes(7), volts(WATER_THERMONEUTRAL_V))).toBe(0);
    expect(bathHeat(amperes(5), volts(12))).toBeCloseTo(52.6, 1);
  });

  it("warms 100 L by 0.86 K in an hour with 100 W", () => {
    expect(heatingRate(watts(100), litres(100))).toBeCloseTo(0.861, 3);
    expect(() => heatingRate(watts(100), litres(0))).toThrow("volume");
  });

  it("counts kilowatt-hours", () => {
    expect(electricalEnergy(ampereHours(10), volts(12))).toBeCloseTo(0.12, 12);
  });
});
