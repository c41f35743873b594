import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Family, type Observed, type Predicted, weigh } from "./evidence";

/** A family that is a straight line in x and s: its evidence is a normal distribution, known in closed form. */
const line = (x: number, s: number, change: Partial<Predicted> = {}): Predicted => ({
  lnAmps: 1 + 0.5 * x - 0.8 * s,
  lnVolts: 2 + 0.1 * x,
  ampsByX: 0.5,
  ampsByS: -0.8,
  voltsByX: 0.1,
  voltsByS: 0,
  flickerAmps: 0,
  flickerVolts: 0,
  ...change,
});
const straight: Family = {
  x: { mean: 0, deviation: 0.3 },
  s: { mean: 0.2, deviation: 0.7 },
  predict: (x, s) => [line(x, s)],
};
const seen = (lnAmps: number, lnVolts: number): Observed => ({
  lnAmps,
  lnVolts,
  varianceAmps: 0.04,
  varianceVolts: 0.01,
});

/** ln density of two numbers under a normal distribution with this covariance. */
function lnNormal(off: readonly [number, number], [a, b, c]: readonly [number, number, number]) {
  const determinant = a * c - b * b;
  const [p, q] = off;
  const square = (c * p * p - 2 * b * p * q + a * q * q) / determinant;
  return -square / 2 - Math.log(2 * Math.PI) - Math.log(determinant) / 2;
}

describe("weigh", () => {
  it("is the closed form where the family is straight", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1, max: 3, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (amps, volts) => {
          // Var(ln amps) = 0.5²·0.3² + 0.8²·0.7² + 0.04, and so on.
          const covariance = [0.0225 + 0.3136 + 0.04, 0.0045, 0.0009 + 0.01] as const;
          const exact = lnNormal([amps - (1 - 0.16), volts - 2], covariance);
          const { lnEvidence } = weigh([seen(amps, volts)], straight);
          expect(Math.abs(lnEvidence - exact)).toBeLessThan(0.01);
        },
      ),
    );
  });

  it("counts flicker as noise of its own", () => {
    const flickering: Family = {
      ...straight,
      predict: (x, s) => [line(x, s, { flickerAmps: 0.5, flickerVolts: 0.2 })],
    };
    const covariance = [0.0225 + 0.3136 + 0.54, 0.0045, 0.0009 + 0.21] as const;
    const exact = lnNormal([2 - 0.84, 0.5], covariance);
    expect(weigh([seen(2, 2.5)], flickering).lnEvidence).toBeCloseTo(exact, 2);
  });

  it("leaves a known severity where it is", () => {
    const known: Family = { ...straight, s: { mean: 0.2, deviation: 0 } };
    const { lnEvidence, s } = weigh([seen(1.5, 2.1)], known);
    expect(s).toBeCloseTo(0.2, 6);
    const covariance = [0.0225 + 0.04, 0.0045, 0.0009 + 0.01] as const;
    expect(lnEvidence).toBeCloseTo(lnNormal([1.5 - 0.84, 0.1], covariance), 2);
  });

  it("takes a measurement beside the meter into account", () => {
    const beside: Family = {
      ...straight,
      sideways: { seen: 1, variance: 0.01, predict: (s) => ({ value: s, byS: 1 }) },
    };
    const { s, lnEvidence } = weigh([seen(1 - 0.8, 2)], beside);
    expect(s).toBeCloseTo(1, 1);
    // The same as two independent ones, one after the other: s given the side view, then the meter.
    const precision = 1 / 0.49 + 100;
    const mean = (0.2 / 0.49 + 100) / precision;
    const covariance = [0.0225 + 0.64 / precision + 0.04, 0.0045, 0.0109] as const;
    const first = -(0.8 ** 2) / 2 / 0.5 - Math.log(2 * Math.PI * 0.5) / 2;
    const second = lnNormal([0.2 - (1 - 0.8 * mean), 0], covariance);
    expect(lnEvidence).toBeCloseTo(first + second, 2);
  });

  it("finds the peak of a bent family from afar", () => {
    const bent: Family = {
      x: { mean: 0, deviation: 0.1 },
      s: { mean: 0, deviation: 3 },
      predict: (x, s) => [
        line(x, 0, { lnAmps: x - Math.exp(s), ampsByX: 1, ampsByS: -Math.exp(s) }),
      ],
    };
    const { s } = weigh([{ ...seen(-20, 2), varianceAmps: 0.01 }], bent);
    expect(Math.exp(s)).toBeCloseTo(20, 0);
  });

  describe("looks no more often than it needs", () => {
    /** The straight family, and how often it was asked. */
    const counted = (family: Family): { readonly family: Family; readonly asked: () => number } => {
      let asked = 0;
      const predict: Family["predict"] = (x, s) => {
        asked += 1;
        return family.predict(x, s);
      };
      return { family: { ...family, predict }, asked: () => asked };
    };

    it("and ends at once where it begins at the peak", () => {
      const { family, asked } = counted(straight);
      const { x, s } = weigh([seen(1 - 0.16, 2)], family);
      expect([x, s]).toEqual([0, 0.2]);
      expect(asked()).toBe(2);
    });

    it("and ends after two or three steps on a straight line", () => {
      const { family, asked } = counted(straight);
      weigh([seen(2, 2.5)], family);
      expect(asked()).toBeLessThanOrEqual(4);
    });

    it("and gives up on a family that only gets worse", () => {
      // The slopes point the wrong way, so that every step, however short, leads away.
      const { family, asked } = counted({
        ...straight,
        predict: (x, s) => [line(x, s, { ampsByX: -0.5, ampsByS: 0.8 })],
      });
      const { x, s } = weigh([seen(3, 2)], family);
      expect([x, s]).toEqual([0, 0.2]);
      expect(asked()).toBe(7);
    });

    it("and takes twelve steps at most where each gains a little", () => {
      const { family, asked } = counted({
        ...straight,
        predict: (x, s) => [line(x, s, { ampsByX: 20, ampsByS: -32 })],
      });
      weigh([seen(9, 2)], family);
      expect(asked()).toBe(13);
    });
  });

  it("finds the peak itself: x and s where prior and readings meet", () => {
    // One unknown known, the other seen through ln amps alone: precision by precision.
    const alone: Family = {
      x: { mean: 0.1, deviation: 0.3 },
      s: { mean: 0, deviation: 0 },
      predict: (x) => [
        { ...line(0, 0), lnAmps: x, ampsByX: 1, ampsByS: 0, lnVolts: 2, voltsByX: 0 },
      ],
    };
    const { x } = weigh([seen(0.7, 2)], alone);
    expect(x).toBeCloseTo((0.1 / 0.09 + 0.7 / 0.04) / (1 / 0.09 + 1 / 0.04), 3);
    const { x: ofX, s: ofS } = weigh([seen(0.2, 2.05)], straight);
    // The gradient is nothing there: what the readings pull, the priors hold.
    const offAmps = 0.2 - (1 + 0.5 * ofX - 0.8 * ofS);
    const offVolts = 2.05 - (2 + 0.1 * ofX);
    expect((0.5 * offAmps) / 0.04 + (0.1 * offVolts) / 0.01 - ofX / 0.09).toBeCloseTo(0, 1);
    expect((-0.8 * offAmps) / 0.04 - (ofS - 0.2) / 0.49).toBeCloseTo(0, 1);
  });

  it("wants a prediction for each reading", () => {
    expect(() => weigh([seen(1, 2), seen(1, 2)], straight)).toThrow("no prediction of reading 1");
  });
});
