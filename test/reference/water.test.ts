import { describe, expect, it } from "vitest";
import { dewPoint, evaporation, leadAmpacity, vapourPressure } from "@/lib/electrolysis";
import { celsius, squareMillimetres } from "@/lib/units";

describe("moist air against tables", () => {
  // Saturated steam, CRC Handbook and IAPWS tables (from memory): 0.6113, 1.2282, 2.3393, 4.2470, 7.3849, 12.352 kPa.
  it.each([
    [0.01, 0.6113],
    [10, 1.2282],
    [20, 2.3393],
    [30, 4.247],
    [40, 7.3849],
    [50, 12.352],
  ])("vapour pressure at %f °C is %f kPa within 0.6 %%", (temperature, kilopascals) => {
    const found = vapourPressure(celsius(temperature));
    expect(Math.abs(found / kilopascals - 1)).toBeLessThan(0.006);
  });

  it("dew point of 20 °C and 50 % is 9.3 °C (Magnus with the WMO's constants, from memory)", () => {
    expect(dewPoint(celsius(20), 50)).toBeCloseTo(9.26, 2);
  });

  it("evaporates as ASHRAE's short form for pools says: 4e-5 kg/s for 1 m² and 1 kPa (from memory)", () => {
    // w = 4e-5 · A · (p_w − p_a) at an air speed of 0.1 m/s, rounded there to one figure.
    const drop = vapourPressure(celsius(26)) - 0.5 * vapourPressure(celsius(28));
    const short = 4e-5 * 10 * drop * 3600;
    const found = evaporation({ surfaceM2: 10, bathC: 26, airC: 28, humidityPercent: 50 });
    expect(Math.abs(found / short - 1)).toBeLessThan(0.05);
  });
});

describe("what a lead may carry, NEC table 310.16, 60 °C column (from memory)", () => {
  it.each([
    [2.081, 15],
    [3.309, 20],
    [5.261, 30],
    [8.366, 40],
    [13.302, 55],
    [21.151, 70],
    [4, 20],
    [50, 70],
    [1.5, 0],
  ])("%f mm²: %f A", (area, ampacity) => {
    expect(leadAmpacity(squareMillimetres(area + 0.001))).toBe(ampacity);
  });
});
