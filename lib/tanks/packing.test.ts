import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  checkPacking,
  fitPart,
  type Load,
  type LoadPart,
  MOST_PIECES,
  packLoad,
  type TankShape,
  USUAL_CLEARANCE_MM,
  USUAL_GAP_MM,
} from "./index";
import { millimetres } from "@/lib/units";

/** 700 × 500 mm straight down: 600 × 400 × 350 mm of free bath at a level of 400 mm. */
const trough: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: 700,
  topWidthMm: 500,
  bottomLengthMm: 700,
  bottomWidthMm: 500,
  depthMm: 450,
};
/** Free circle of 460 mm, 710 mm deep at a level of 760 mm. */
const barrel: TankShape = {
  kind: "ROUND",
  topDiameterMm: 560,
  bottomDiameterMm: 560,
  depthMm: 860,
};

type Size = readonly [lengthMm: number, widthMm: number, heightMm: number];

function part(id: string, [lengthMm, widthMm, heightMm]: Size, quantity = 1): LoadPart {
  return { id, box: { lengthMm, widthMm, heightMm }, quantity, massG: 0 };
}

function loadOf(parts: readonly LoadPart[], overrides: Partial<Load> = {}): Load {
  return {
    shape: trough,
    workingLevelMm: 400,
    clearanceMm: USUAL_CLEARANCE_MM,
    gapMm: USUAL_GAP_MM,
    parts,
    ...overrides,
  };
}

const inBarrel = { shape: barrel, workingLevelMm: 760 } as const;

/** Parts that mostly fit, of one to three pieces. */
const someParts = (longest: number): fc.Arbitrary<LoadPart[]> =>
  fc
    .array(
      fc.tuple(
        fc.integer({ min: 15, max: longest }),
        fc.integer({ min: 15, max: Math.round(longest / 2) }),
        fc.integer({ min: 5, max: Math.round(longest / 3) }),
        fc.integer({ min: 1, max: 3 }),
      ),
      { minLength: 1, maxLength: 6 },
    )
    .map((sizes) => sizes.map(([l, w, h, copies], index) => part(`p${index}`, [l, w, h], copies)));

describe("packing a load", () => {
  it("keeps the gap to the millimetre, along, across and upwards", () => {
    // Two along: 285 + 30 + 285 = 600; two across: 185 + 30 + 185 = 400; two high: 160 + 30 + 160 = 350.
    expect(packLoad(loadOf([part("a", [285, 185, 160], 8)])).packed).toBe(true);
    for (const size of [
      [285.1, 185, 160],
      [285, 185.1, 160],
      [285, 185, 160.1],
    ] as const) {
      expect(packLoad(loadOf([part("a", size, 8)])).packed).toBe(false);
    }
    expect(packLoad(loadOf([part("a", [285, 185, 160], 8)], { gapMm: 30.1 })).packed).toBe(false);
  });

  it("counts every piece of a part", () => {
    const load = loadOf([part("hinge", [285, 185, 160], 7), part("hook", [285, 185, 160])]);
    const packing = packLoad(load);
    if (!packing.packed) throw new Error(packing.words);
    expect(packing.places.filter(({ id }) => id === "hinge").map(({ copy }) => copy)).toEqual([
      1, 2, 3, 4, 5, 6, 7,
    ]);
    expect(packing.places.filter(({ id }) => id === "hook")).toHaveLength(1);
    expect(packing.words).toBe("All 8 pieces hang clear of each other and of the anode.");
  });

  it("hangs one part in the middle of the free bath, as it would lie alone", () => {
    const packing = packLoad(loadOf([part("a", [300, 200, 50])]));
    if (!packing.packed) throw new Error(packing.words);
    const [place] = packing.places;
    if (!place) throw new Error("no place");
    expect(packing.space).toEqual({ lengthMm: 600, widthMm: 400, heightMm: 350 });
    expect(place.xMm).toBeCloseTo((600 - place.lengthMm) / 2, 9);
    expect(place.yMm).toBeCloseTo((400 - place.widthMm) / 2, 9);
    expect(place.zMm).toBeCloseTo((350 - place.heightMm) / 2, 9);
    expect(packing.words).toBe("It hangs clear of the anode.");
  });

  it("uses the round outline of a barrel, not the square in it", () => {
    // 400² + 200² < 460²: one plate; the largest square inside is only 325 mm wide.
    expect(packLoad(loadOf([part("a", [700, 400, 200])], inBarrel)).packed).toBe(true);
    // Two plates 95 mm thick and 30 mm apart are 220 mm: √(404² + 220²) = 460.01 mm; with 403 mm it is 459.1.
    expect(packLoad(loadOf([part("a", [700, 403, 95], 2)], inBarrel)).packed).toBe(true);
    expect(packLoad(loadOf([part("a", [700, 404.1, 95], 2)], inBarrel)).packed).toBe(false);
  });

  it("tilts what goes in no other way, next to others", () => {
    const rod = part("rod", [650, 20, 20], 2);
    const packing = packLoad(loadOf([rod, part("hook", [100, 60, 20])]));
    if (!packing.packed) throw new Error(packing.words);
    const rods = packing.places.filter(({ id }) => id === "rod");
    expect(rods.map(({ lie }) => lie.kind)).toEqual(["TILTED", "TILTED"]);
    // √(650² + 20²) at acos(600/650.3) + atan(20/650) = 24.4°: 600 mm long, 287.7 mm high.
    expect(rods[0]?.lie).toMatchObject({ tiltDegrees: 24.4, along: 650, up: 20, across: 20 });
    expect(rods[0]?.lengthMm).toBeCloseTo(600, 6);
    expect(rods[0]?.heightMm).toBeCloseTo(287.7, 0);
  });

  it("stands what is dipped end for end upright, out of the bath", () => {
    const bar = part("bar", [1150, 40, 40], 2);
    const packing = packLoad(loadOf([bar], inBarrel));
    if (!packing.packed) throw new Error(packing.words);
    for (const { lie, heightMm, zMm } of packing.places) {
      expect(lie).toMatchObject({ kind: "END_FOR_END", up: 1150, dips: 2 });
      expect([heightMm, zMm]).toEqual([710, 0]);
    }
  });

  it("gives the level with all of the load in", () => {
    // 2 × 10 990 g / 7.85 kg/L = 2.8 L over 0.35 m²: 8 mm.
    const parts = [{ ...part("a", [200, 100, 70], 2), massG: 10_990 }];
    expect(packLoad(loadOf(parts))).toMatchObject({ levelMm: expect.closeTo(408, 6) as number });
  });
});

describe("a load that does not go in", () => {
  it("names a part that is too big alone", () => {
    const packing = packLoad(loadOf([part("small", [50, 50, 50]), part("big", [900, 500, 80], 2)]));
    expect(packing).toMatchObject({
      packed: false,
      why: "TOO_BIG",
      proven: true,
      leftOver: [{ id: "big", copies: 2 }],
      words: expect.stringContaining("Too big") as string,
    });
  });

  it("keeps the bath under the rim, all pieces counted", () => {
    // 50 mm of 0.35 m² are 17.5 L, 137 375 g of steel.
    const heavy = (massG: number) => [{ ...part("a", [200, 100, 70], 2), massG }];
    expect(packLoad(loadOf(heavy(68_687))).packed).toBe(true);
    expect(packLoad(loadOf(heavy(68_688)))).toMatchObject({ why: "OVER_RIM", proven: true });
  });

  it("proves it where the room is too little however they are turned", () => {
    const packing = packLoad(loadOf([part("a", [300, 190, 160], 12)]));
    expect(packing).toMatchObject({ packed: false, why: "TOO_MUCH", proven: true });
    expect(packing.words).toContain("more room");
  });

  it("is sure that none hang level where each needs the middle of the tank", () => {
    const packing = packLoad(loadOf([part("a", [286, 286, 286], 2)]));
    expect(packing).toMatchObject({
      packed: false,
      why: "NONE_LEVEL",
      proven: false,
      leftOver: [{ id: "a", copies: 1 }],
    });
  });

  it("says that none was found where nothing is proven", () => {
    const packing = packLoad(
      loadOf([part("a", [250, 150, 140], 8), part("b", [200, 190, 150], 2)]),
    );
    expect(packing).toMatchObject({ packed: false, why: "NONE_FOUND", proven: false });
    expect(packing.words).toContain("No way was found");
    if (packing.packed) throw new Error("unreachable");
    expect(packing.leftOver.length).toBeGreaterThan(0);
  });

  it("lays out as many pieces as a person would hang, and no more", () => {
    const screws = (quantity: number) =>
      loadOf([part("screw", [40, 8, 8], quantity)], { gapMm: 5 });
    expect(packLoad(screws(MOST_PIECES)).packed).toBe(true);
    expect(packLoad(screws(MOST_PIECES + 1))).toMatchObject({ why: "TOO_MANY", proven: false });
  });

  it.each([
    ["no parts", loadOf([]), /one part or more/],
    ["a part twice", loadOf([part("a", [9, 9, 9]), part("a", [8, 8, 8])]), /ids that differ/],
    ["half a piece", loadOf([part("a", [9, 9, 9], 1.5)]), /whole number.*1\.5/],
    ["no piece", loadOf([part("a", [9, 9, 9], 0)]), /quantity.*above 0/],
    ["a gap below zero", loadOf([part("a", [9, 9, 9])], { gapMm: -1 }), /gap.*-1/],
    ["a mass below zero", loadOf([{ ...part("a", [9, 9, 9]), massG: -1 }]), /mass of a piece/],
    ["a part without width", loadOf([part("a", [9, 0, 9])]), /part .*above 0 mm/],
    ["a level above the rim", loadOf([part("a", [9, 9, 9])], { workingLevelMm: 451 }), /level/],
  ])("refuses %s", (_what, load, words) => {
    expect(() => packLoad(load)).toThrow(words);
  });
});

describe("any load", () => {
  const tanks = fc.constantFrom<Partial<Load>>({}, inBarrel, { gapMm: 0 });

  it("hangs clear and inside where it is said to hang", () => {
    let packed = 0;
    fc.assert(
      fc.property(someParts(500), tanks, (parts, tank) => {
        const load = loadOf(parts, tank);
        const packing = packLoad(load);
        if (!packing.packed) return;
        packed += 1;
        expect(checkPacking(load, packing.places)).toEqual([]);
      }),
      { numRuns: 60, seed: 7 },
    );
    expect(packed).toBeGreaterThan(20);
  });

  it("is answered alike in whatever order the parts come, and in whatever unit they are measured", () => {
    const double = (load: Load): Load => ({
      ...load,
      shape: {
        kind: "TAPERED_BOX",
        topLengthMm: 1400,
        topWidthMm: 1000,
        bottomLengthMm: 1400,
        bottomWidthMm: 1000,
        depthMm: 900,
      },
      workingLevelMm: 800,
      clearanceMm: 100,
      gapMm: 60,
      parts: load.parts.map(({ box, ...rest }) => ({
        ...rest,
        box: {
          lengthMm: 2 * box.lengthMm,
          widthMm: 2 * box.widthMm,
          heightMm: 2 * box.heightMm,
        },
      })),
    });
    fc.assert(
      fc.property(someParts(400), (parts) => {
        const load = loadOf(parts);
        const one = packLoad(load);
        expect(packLoad({ ...load, parts: [...parts].reverse() })).toEqual(
          one.packed ? one : { ...one, leftOver: [...one.leftOver].reverse() },
        );
        expect(packLoad(double(load)).packed).toBe(one.packed);
      }),
      { numRuns: 25, seed: 11 },
    );
  });

  it("of one piece goes in exactly where the part goes in alone", () => {
    const size = fc.integer({ min: 10, max: 800 });
    fc.assert(
      fc.property(size, size, size, tanks, (l, w, h, tank) => {
        const load = loadOf([part("a", [l, w, h])], tank);
        const alone = fitPart(
          { lengthMm: l, widthMm: w, heightMm: h },
          load.shape,
          millimetres(load.workingLevelMm),
          load.clearanceMm,
        );
        expect(packLoad(load).packed).toBe(alone.fits);
      }),
      { numRuns: 150, seed: 3 },
    );
  });

  it("still hangs when a part is left out", () => {
    fc.assert(
      fc.property(someParts(400), (parts) => {
        const load = loadOf(parts);
        const packing = packLoad(load);
        if (!packing.packed) return;
        const fewer = { ...load, parts: parts.slice(1) };
        const places = packing.places.filter(({ id }) => id !== "p0");
        expect(checkPacking(fewer, places)).toEqual([]);
      }),
      { numRuns: 25, seed: 5 },
    );
  });
});
