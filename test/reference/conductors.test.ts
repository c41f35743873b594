import { copperResistance, voltageDrop } from "@/lib/electrolysis";
import { amperes, celsius, metres, squareMillimetres, wireArea, wireDiameter } from "@/lib/units";
import { describe, expect, it } from "vitest";

describe("wire gauges: ASTM B258 (from memory)", () => {
  it("is 0.460 in at 4/0 and 0.005 in at 36, the two sizes that define the series", () => {
    expect(wireDiameter(-3)).toBeCloseTo(0.46 * 25.4, 9);
    expect(wireDiameter(36)).toBeCloseTo(0.005 * 25.4, 12);
  });

  // gauge, mm, mm², mΩ/m at 20 °C, V lost by 10 A in 4 m
  it.each([
    [14, 1.628, 2.081, 8.285, 0.331],
    [12, 2.053, 3.309, 5.211, 0.208],
    [10, 2.588, 5.261, 3.277, 0.131],
    [8, 3.264, 8.366, 2.061, 0.082],
    [6, 4.115, 13.302, 1.296, 0.052],
    [4, 5.189, 21.151, 0.815, 0.033],
  ])("AWG %s", (gauge, diameter, area, milliohms, drop) => {
    expect(wireDiameter(gauge)).toBeCloseTo(diameter, 3);
    expect(wireArea(gauge)).toBeCloseTo(area, 3);
    expect(1000 * copperResistance(metres(1), wireArea(gauge))).toBeCloseTo(milliohms, 3);
    expect(voltageDrop(amperes(10), copperResistance(metres(4), wireArea(gauge)))).toBeCloseTo(
      drop,
      3,
    );
  });
});

describe("copper: IEC 60028 (from memory)", () => {
  it("one metre of one square millimetre is 1/58 Ω at 20 °C", () => {
    expect(copperResistance(metres(1), squareMillimetres(1))).toBeCloseTo(1 / 58, 6);
  });

  it("gains 0.393 % a kelvin: 11.79 % at 50 °C", () => {
    const at = (t: number): number => copperResistance(metres(1), squareMillimetres(1), celsius(t));
    expect(at(50) / at(20)).toBeCloseTo(1.1179, 6);
  });
});
