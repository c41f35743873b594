import { describe, expect, it } from "vitest";
import { type LoadPart, packLoad, type Packing, type TankShape } from "@/lib/tanks";
import { cutBox, numbersFrom, type Size } from "../support/cut-boxes";

/** A tank that is all free bath: no clearance, filled to the rim. */
function box([lengthMm, widthMm, depthMm]: Size): TankShape {
  return {
    kind: "TAPERED_BOX",
    topLengthMm: lengthMm,
    topWidthMm: widthMm,
    bottomLengthMm: lengthMm,
    bottomWidthMm: widthMm,
    depthMm,
  };
}

const pieces = (id: string, [lengthMm, widthMm, heightMm]: Size, quantity: number): LoadPart => ({
  id,
  box: { lengthMm, widthMm, heightMm },
  quantity,
  massG: 0,
});

function fill(shape: TankShape, parts: readonly LoadPart[], gapMm = 0): Packing {
  return packLoad({ shape, workingLevelMm: shape.depthMm, clearanceMm: 0, gapMm, parts });
}

/*
 * Puzzles with a published answer. All from memory.
 */
describe("published packings", () => {
  it("puts the Slothouber–Graatsma puzzle together: six 1 × 2 × 2 and three 1 × 1 × 1 in a cube of 3", () => {
    const slabs = pieces("slab", [100, 200, 200], 6);
    const cubes = pieces("cube", [100, 100, 100], 3);
    expect(fill(box([300, 300, 300]), [slabs, cubes]).packed).toBe(true);
  });

  it("puts 26 bricks 1 × 2 × 4 into a cube of 6, and not the 27th that there would be volume for", () => {
    // N. G. de Bruijn, Filling boxes with bricks, Amer. Math. Monthly 76 (1969) 37.
    const bricks = (count: number) => [pieces("brick", [100, 200, 400], count)];
    expect(fill(box([600, 600, 600]), bricks(26)).packed).toBe(true);
    expect(fill(box([600, 600, 600]), bricks(27))).toMatchObject({ packed: false, proven: false });
  });

  it.each([
    // E. Friedman, Packing unit squares in circles, Electronic J. Combinatorics, survey: least radius.
    [1, Math.SQRT1_2],
    [2, Math.sqrt(5) / 2],
    [3, (5 * Math.sqrt(17)) / 16],
    [4, Math.SQRT2],
    [5, Math.sqrt(10) / 2],
  ])(
    "puts %i unit squares into the least circle known, and into none that is smaller",
    (count, radius) => {
      const round = (scale: number): TankShape => {
        const diameter = 200 * radius * scale;
        return {
          kind: "ROUND",
          topDiameterMm: diameter,
          bottomDiameterMm: diameter,
          depthMm: 100,
        };
      };
      const squares = [pieces("square", [100, 100, 100], count)];
      expect(fill(round(1.0001), squares).packed).toBe(true);
      expect(fill(round(0.999), squares).packed).toBe(false);
    },
  );
});

describe("pieces cut from one box with a saw as wide as the gap", () => {
  const whole: Size = [700, 420, 310];
  const gapMm = 30;
  /** Share of sixty such boxes that are put together again. */
  function shareFound(count: number, loose: number): number {
    const boxes = Array.from({ length: 60 }, (_, index) => {
      const sizes = cutBox(whole, count, gapMm, loose, numbersFrom(7919 * (index + 1) + count));
      return fill(
        box(whole),
        sizes.map((size, piece) => pieces(`p${piece}`, size, 1)),
        gapMm,
      );
    });
    for (const packing of boxes) {
      // They do fit: nothing may claim that they cannot.
      if (!packing.packed) expect(packing.why).toBe("NONE_FOUND");
    }
    return boxes.filter(({ packed }) => packed).length / boxes.length;
  }

  it.each([
    [4, 0, 0.95],
    [6, 0, 0.9],
    [8, 0, 0.85],
    [8, 0.1, 0.9],
    [12, 0, 0.45],
    [12, 0.1, 0.7],
    [12, 0.15, 0.95],
  ])(
    "%i pieces, each planed off by %d, are put back in at least %d of the cases",
    (count, loose, least) => {
      expect(shareFound(count, loose)).toBeGreaterThanOrEqual(least);
    },
  );
});
