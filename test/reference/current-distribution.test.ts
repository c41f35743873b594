import {
  coaxialShapeLength,
  concentricSpheresShapeLength,
  plateShapeLength,
  rodToPlaneShapeLength,
} from "@/lib/electrolysis";
import { metres, squareMetres } from "@/lib/units";
import { describe, expect, it } from "vitest";

// Resistances in a 2 % soda bath at 20 °C (2.33 S/m, CRC Handbook p. 5-71). Closed forms: J. Newman and
// K. E. Thomas-Alyea, Electrochemical Systems, ch. 18; W. R. Smythe, Static and Dynamic Electricity (from memory).
const ohms = (shapeLength: number): number => 1 / (2.33 * shapeLength);

describe("primary resistance between electrodes", () => {
  it("plates: d/(κA)", () => {
    expect(ohms(plateShapeLength(squareMetres(0.04), metres(0.2)))).toBeCloseTo(2.14592, 5);
  });

  it("rod in a tube: ln(b/a)/(2πκL)", () => {
    expect(ohms(coaxialShapeLength(metres(0.01), metres(0.1), metres(0.3)))).toBeCloseTo(
      0.524274,
      6,
    );
  });

  it("rod before a plane: acosh(h/a)/(2πκL)", () => {
    expect(ohms(rodToPlaneShapeLength(metres(0.005), metres(0.1), metres(0.3)))).toBeCloseTo(
      0.839777,
      6,
    );
  });

  it("sphere in a bath without walls, and in a sphere: (1/a − 1/b)/(4πκ)", () => {
    const alone = concentricSpheresShapeLength(metres(0.05), metres(Number.POSITIVE_INFINITY));
    expect(ohms(alone)).toBeCloseTo(0.683068, 6);
    expect(ohms(concentricSpheresShapeLength(metres(0.05), metres(0.2)))).toBeCloseTo(0.512301, 6);
  });

  it("agree with the potential integrated between the electrodes", () => {
    // R = ∫ dr / (κ·area(r)), midpoint rule: a check that does not share the logarithm.
    const steps = 20_000;
    const integrate = (from: number, to: number, area: (r: number) => number): number => {
      const width = (to - from) / steps;
      let total = 0;
      for (let step = 0; step < steps; step += 1) {
        total += width / (2.33 * area(from + (step + 0.5) * width));
      }
      return total;
    };
    expect(ohms(coaxialShapeLength(metres(0.01), metres(0.1), metres(0.3)))).toBeCloseTo(
      integrate(0.01, 0.1, (r) => 2 * Math.PI * r * 0.3),
      6,
    );
    expect(ohms(concentricSpheresShapeLength(metres(0.05), metres(0.2)))).toBeCloseTo(
      integrate(0.05, 0.2, (r) => 4 * Math.PI * r ** 2),
      6,
    );
  });
});
