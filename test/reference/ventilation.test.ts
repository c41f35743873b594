import { airflowNeeded, closedRoomHours, hydrogenVolume, openingNeeded } from "@/lib/electrolysis";
import { ampereHours, amperes, celsius } from "@/lib/units";
import { describe, expect, it } from "vitest";

describe("ventilation: IEC 62485-2:2010 clause 7.2, EN 50272-2 (clause number from memory)", () => {
  it("is v·q·s = 24 · 0.42e-3 · 5 m³ for each A·h, rounded to 0.05", () => {
    expect(airflowNeeded(amperes(1))).toBe(0.05);
    expect(Math.abs(airflowNeeded(amperes(1)) / (24 * 0.42e-3 * 5) - 1)).toBeLessThan(0.01);
  });

  it("rests on 0.42 L of hydrogen for one A·h at 0 °C", () => {
    expect(hydrogenVolume(ampereHours(1), celsius(0))).toBeCloseTo(0.42, 2);
  });

  it("asks 0.5 m³/h and two openings of 14 cm² for 10 A", () => {
    expect(airflowNeeded(amperes(10))).toBeCloseTo(0.5, 12);
    expect(openingNeeded(airflowNeeded(amperes(10)))).toBeCloseTo(14, 12);
  });

  it("lets 28 cm² pass 1 m³/h at the rule's 0.1 m/s", () => {
    expect(openingNeeded(airflowNeeded(amperes(20)))).toBeCloseTo(1 / (0.1 * 3600) / 1e-4, 0);
  });

  it("keeps hydrogen under 1 % by volume, a quarter of the lower flammable limit (NFPA 69 practice)", () => {
    const hydrogenM3PerHour = hydrogenVolume(ampereHours(10), celsius(25)) / 1000;
    expect(hydrogenM3PerHour / airflowNeeded(amperes(10))).toBeLessThan(0.01);
  });
});

describe("a closed room: ideal gas, CODATA constants", () => {
  it("of 30 m³ reaches 1 % after 65.7 h of 10 A at 25 °C", () => {
    expect(closedRoomHours(30, amperes(10), 0.01, celsius(25))).toBeCloseTo(65.7, 1);
  });
});
