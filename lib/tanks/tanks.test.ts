import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { litres, millimetres } from "@/lib/units";
import {
  capacity,
  checkShape,
  fitPart,
  freeBox,
  levelFor,
  levelWithPart,
  rectangleFits,
  type TankShape,
  volumeAt,
  wettedWall,
} from "./index";

const tub: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: 800,
  topWidthMm: 520,
  bottomLengthMm: 720,
  bottomWidthMm: 440,
  depthMm: 420,
};
const barrel: TankShape = {
  kind: "ROUND",
  topDiameterMm: 560,
  bottomDiameterMm: 560,
  depthMm: 860,
};
const drinker: TankShape = {
  kind: "MEASURED",
  lengthMm: 1150,
  widthMm: 700,
  depthMm: 460,
  marks: [
    { levelMm: 100, volumeL: 58 },
    { levelMm: 200, volumeL: 127 },
    { levelMm: 300, volumeL: 200 },
    { levelMm: 400, volumeL: 276 },
  ],
};
const shapes = [tub, barrel, drinker] as const;

describe("volume and level", () => {
  it("is a cylinder's for a straight round tank", () => {
    expect(volumeAt(barrel, millimetres(600))).toBeCloseTo(
      ((Math.PI / 4) * 560 ** 2 * 600) / 1e6,
      9,
    );
  });

  it("is a frustum's for a tapered round tank: h·π/12·(D² + D·d + d²)", () => {
    const bucket: TankShape = {
      kind: "ROUND",
      topDiameterMm: 310,
      bottomDiameterMm: 260,
      depthMm: 370,
    };
    const exact = (370 * Math.PI * (310 ** 2 + 310 * 260 + 260 ** 2)) / 12 / 1e6;
    expect(capacity(bucket)).toBeCloseTo(exact, 9);
  });

  it("is the integral of the sections for a tapered box", () => {
    let sum = 0;
    const steps = 20_000;
    for (let index = 0; index < steps; index += 1) {
      const share = (index + 0.5) / steps;
      sum += ((720 + 80 * share) * (440 + 80 * share) * 420) / steps;
    }
    expect(capacity(tub)).toBeCloseTo(sum / 1e6, 6);
  });

  it("goes through every measured mark", () => {
    for (const mark of drinker.marks) {
      expect(volumeAt(drinker, millimetres(mark.levelMm))).toBeCloseTo(mark.volumeL, 9);
    }
  });

  it("rises with the level, and the level is its inverse", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...shapes),
        fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        (shape, share) => {
          const level = millimetres(share * (shape.kind === "MEASURED" ? 400 : shape.depthMm));
          const volume = volumeAt(shape, level);
          expect(volumeAt(shape, millimetres(level * 0.99))).toBeLessThan(volume);
          expect(levelFor(shape, volume)).toBeCloseTo(level, 4);
        },
      ),
    );
  });

  it("refuses a level above the rim and a volume above the capacity, naming both", () => {
    expect(() => volumeAt(tub, millimetres(421))).toThrow(
      /level must be from 0 to 420 mm, got 421/,
    );
    expect(() => levelFor(tub, litres(1000))).toThrow(/volume must be from 0 to/);
    expect(() => volumeAt(tub, millimetres(Number.NaN))).toThrow(RangeError);
  });

  it("raises the level by the steel put in, and says when it runs over", () => {
    const before = millimetres(300);
    const { levelMm, staysIn } = levelWithPart(barrel, before, 7850);
    expect(staysIn).toBe(true);
    expect(volumeAt(barrel, millimetres(levelMm)) - volumeAt(barrel, before)).toBeCloseTo(1, 6);
    expect(levelWithPart(barrel, millimetres(860), 7850).staysIn).toBe(false);
  });

  it("wets a cylinder's wall", () => {
    expect(wettedWall(barrel, millimetres(500))).toBeCloseTo((Math.PI * 560 * 500) / 1e6, 9);
  });

  it("refuses shapes that cannot be", () => {
    expect(() => checkShape({ ...tub, topWidthMm: 0 })).toThrow(/width at the top/);
    expect(() => checkShape({ ...drinker, marks: [] })).toThrow(/two or more levels/);
    const falling = [drinker.marks[1], drinker.marks[0]].filter((mark) => mark !== undefined);
    expect(() => checkShape({ ...drinker, marks: falling })).toThrow(/must rise/);
  });
});

describe("fit", () => {
  it("lays a small part whole under the bath", () => {
    const fit = fitPart({ lengthMm: 250, widthMm: 65, heightMm: 45 }, tub, millimetres(360));
    expect(fit).toMatchObject({ fits: true, lie: { kind: "WHOLE" } });
  });

  it("tilts a part a little longer than the tank", () => {
    const fit = fitPart({ lengthMm: 650, widthMm: 40, heightMm: 20 }, tub, millimetres(360));
    expect(fit).toMatchObject({ fits: true, lie: { kind: "TILTED" } });
  });

  it("dips a long bar end for end, and refuses one that is longer still", () => {
    const bar = { lengthMm: 1300, widthMm: 30, heightMm: 30 };
    expect(fitPart(bar, barrel, millimetres(760))).toMatchObject({
      fits: true,
      lie: { kind: "END_FOR_END", dips: 2 },
    });
    const longer = fitPart({ ...bar, lengthMm: 1900 }, barrel, millimetres(760));
    expect(longer.fits).toBe(false);
    expect(longer.words).toContain("1900 × 30 × 30 mm");
  });

  it("does not depend on which measure is called length", () => {
    fc.assert(
      fc.property(
        fc.tuple(...Array.from({ length: 3 }, () => fc.integer({ min: 10, max: 900 }))),
        ([a = 1, b = 1, c = 1]) => {
          const one = fitPart({ lengthMm: a, widthMm: b, heightMm: c }, tub, millimetres(360));
          const other = fitPart({ lengthMm: c, widthMm: a, heightMm: b }, tub, millimetres(360));
          expect(one.fits).toBe(other.fits);
        },
      ),
    );
  });

  it("never says a part fits that a smaller part did not", () => {
    fc.assert(
      fc.property(
        fc.tuple(...Array.from({ length: 3 }, () => fc.integer({ min: 10, max: 700 }))),
        ([a = 1, b = 1, c = 1]) => {
          const big = fitPart({ lengthMm: a, widthMm: b, heightMm: c }, tub, millimetres(360));
          const small = fitPart(
            { lengthMm: a * 0.8, widthMm: b * 0.8, heightMm: c * 0.8 },
            tub,
            millimetres(360),
          );
          if (big.fits) expect(small.fits).toBe(true);
        },
      ),
    );
  });

  it("keeps its clearance on every side", () => {
    expect(freeBox(tub, millimetres(360), 50)).toEqual({
      lengthMm: 620,
      widthMm: 340,
      heightMm: 310,
    });
    expect(freeBox(tub, millimetres(40), 50).heightMm).toBe(0);
  });
});

describe("rectangleFits", () => {
  it("agrees with trying every angle", () => {
    const turned = (p: number, q: number, a: number, b: number): boolean => {
      for (let step = 0; step <= 9000; step += 1) {
        const angle = (step / 9000) * (Math.PI / 2);
        const length = p * Math.cos(angle) + q * Math.sin(angle);
        const height = p * Math.sin(angle) + q * Math.cos(angle);
        if (length <= a + 1e-3 && height <= b + 1e-3) return true;
      }
      return false;
    };
    fc.assert(
      fc.property(
        fc.tuple(...Array.from({ length: 4 }, () => fc.integer({ min: 1, max: 60 }))),
        ([p = 1, q = 1, a = 1, b = 1]) => {
          const near =
            rectangleFits(p * 0.998, q * 0.998, a, b) !== rectangleFits(p * 1.002, q * 1.002, a, b);
          if (!near) expect(rectangleFits(p, q, a, b)).toBe(turned(p, q, a, b));
        },
      ),
      { numRuns: 150 },
    );
  });
});
