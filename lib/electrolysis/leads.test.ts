import { amperes, celsius, metres, ohms, squareMillimetres } from "@/lib/units";
import { describe, expect, it } from "vitest";
import { copperResistance, leadPairResistance, voltageDrop } from "./leads";

describe("leads", () => {
  it("count both ways", () => {
    expect(leadPairResistance({ oneWayLengthM: 2, areaMm2: 4 })).toBeCloseTo(
      copperResistance(metres(4), squareMillimetres(4)),
      15,
    );
    expect(leadPairResistance({ oneWayLengthM: 0, areaMm2: 4 })).toBe(0);
  });

  it("lose no voltage without current", () => {
    expect(voltageDrop(amperes(0), ohms(0.1))).toBe(0);
    expect(voltageDrop(amperes(10), ohms(0.013))).toBeCloseTo(0.13, 12);
  });

  it("refuse what cannot be", () => {
    expect(() => copperResistance(metres(1), squareMillimetres(0))).toThrow("wire area");
    expect(() => copperResistance(metres(1), squareMillimetres(1), celsius(200))).toThrow("°C");
    expect(() => voltageDrop(amperes(-1), ohms(1))).toThrow("current");
  });
});
