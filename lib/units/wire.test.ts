import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { squareMillimetres } from "./quantities";
import { gaugeText, wireArea, wireDiameter, wireGauge } from "./wire";

describe("wire gauges", () => {
  it("get thinner by the same factor at each gauge", () => {
    expect(wireDiameter(10) / wireDiameter(11)).toBeCloseTo(
      wireDiameter(20) / wireDiameter(21),
      12,
    );
    expect(wireArea(4)).toBeGreaterThan(wireArea(6));
  });

  it("run from 4/0 to 40", () => {
    expect(wireDiameter(-3)).toBeGreaterThan(wireDiameter(40));
    expect(() => wireDiameter(41)).toThrow("wire gauge must be from -3 to 40 AWG, got 41");
    expect(() => wireArea(-4)).toThrow("got -4");
    expect(() => wireGauge(squareMillimetres(0))).toThrow("wire area");
  });

  it("are found from their section", () => {
    fc.assert(
      fc.property(fc.integer({ min: -3, max: 40 }), (gauge) => {
        expect(wireGauge(wireArea(gauge))).toBeCloseTo(gauge, 9);
      }),
    );
  });

  it.each([
    [-3, "4/0"],
    [0, "1/0"],
    [1, "1"],
    [10, "10"],
  ])("%d is written %s", (gauge, text) => {
    expect(gaugeText(gauge)).toBe(text);
  });
});
