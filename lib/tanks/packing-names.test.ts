import { describe, expect, it } from "vitest";
import { type Load, type LoadPart, packLoad, type TankShape } from "./index";

/** 700 × 500 mm straight down: 600 × 400 × 350 mm of free bath at a level of 400 mm. */
const trough: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: 700,
  topWidthMm: 500,
  bottomLengthMm: 700,
  bottomWidthMm: 500,
  depthMm: 450,
};

type Size = readonly [lengthMm: number, widthMm: number, heightMm: number];

function part(id: string, [lengthMm, widthMm, heightMm]: Size, quantity = 1): LoadPart {
  return { id, box: { lengthMm, widthMm, heightMm }, quantity, massG: 0 };
}

function loadOf(parts: readonly LoadPart[]): Load {
  return { shape: trough, workingLevelMm: 400, clearanceMm: 50, gapMm: 30, parts };
}

/** What hangs where, whatever it is called. */
function arrangement(parts: readonly LoadPart[]): string[] {
  const packing = packLoad(loadOf(parts));
  if (!packing.packed) throw new Error(packing.words);
  return packing.places
    .map((place) =>
      [place.xMm, place.yMm, place.zMm, place.lengthMm, place.widthMm, place.heightMm].join(" "),
    )
    .sort();
}

/** The parts of these sizes, called by these letters. */
const called = (letters: string, sizes: readonly Size[]): LoadPart[] =>
  sizes.map((size, index) => part(letters[index] ?? "", size));

describe("an arrangement", () => {
  it.each<[string, readonly Size[]]>([
    // All the same bulk, so that only the measures can put them in order.
    [
      "as bulky, not as long",
      [
        [200, 100, 50],
        [125, 100, 80],
        [160, 125, 50],
      ],
    ],
    [
      "as bulky and as long, not as broad",
      [
        [200, 100, 50],
        [200, 125, 40],
        [200, 80, 62.5],
      ],
    ],
    [
      "not as bulky",
      [
        [100, 90, 80],
        [250, 100, 90],
        [300, 40, 30],
      ],
    ],
  ])("does not hang on what parts are called that are %s", (_what, sizes) => {
    const plain = arrangement(called("abc", sizes));
    for (const letters of ["acb", "bac", "bca", "cab", "cba"]) {
      expect(arrangement(called(letters, sizes))).toEqual(plain);
    }
  });

  it("does not hang on the order in which a part's measures are written", () => {
    const others = [part("b", [250, 120, 40], 2), part("c", [180, 180, 30])];
    const plain = arrangement([part("a", [220, 150, 70], 2), ...others]);
    for (const size of [
      [220, 70, 150],
      [150, 220, 70],
      [150, 70, 220],
      [70, 220, 150],
      [70, 150, 220],
    ] as const) {
      expect(arrangement([part("a", size, 2), ...others])).toEqual(plain);
    }
  });

  it("gives pieces of one size to the parts in the order of their names", () => {
    const packing = packLoad(
      loadOf([
        part("nail", [60, 90, 30], 2),
        part("bolt", [90, 60, 30], 2),
        part("c", [200, 90, 80]),
      ]),
    );
    if (!packing.packed) throw new Error(packing.words);
    expect(packing.places.map(({ id, copy }) => `${id} ${copy}`)).toEqual([
      "c 1",
      "bolt 1",
      "bolt 2",
      "nail 1",
      "nail 2",
    ]);
  });

  it("hangs a load in the middle along, across and upwards, its gaps as they are", () => {
    const packing = packLoad(loadOf([part("a", [285, 185, 100], 2)]));
    if (!packing.packed) throw new Error(packing.words);
    for (const [from, size, whole] of [
      ["xMm", "lengthMm", 600],
      ["yMm", "widthMm", 400],
      ["zMm", "heightMm", 350],
    ] as const) {
      const least = Math.min(...packing.places.map((place) => place[from]));
      const most = Math.max(...packing.places.map((place) => place[from] + place[size]));
      expect(least).toBeCloseTo(whole - most, 9);
    }
  });
});

describe("what packing says", () => {
  const big = { ...loadOf([]), gapMm: 30 };

  it("names gap, quantity and mass with their units", () => {
    const one = part("a", [9, 9, 9]);
    expect(() => packLoad({ ...big, gapMm: -1, parts: [one] })).toThrow(/gap .*\(mm\), got -1/);
    expect(() => packLoad({ ...big, parts: [{ ...one, quantity: 0 }] })).toThrow(
      /quantity .*pieces, got 0/,
    );
    expect(() => packLoad({ ...big, parts: [{ ...one, massG: -1 }] })).toThrow(
      /mass of a piece .*\(g\), got -1/,
    );
  });

  it.each<[string, readonly LoadPart[], RegExp]>([
    ["OVER_RIM", [{ ...part("a", [200, 100, 70]), massG: 1e6 }], /over the rim/],
    ["TOO_MUCH", [part("a", [300, 190, 160], 12)], /more room than the free bath/],
    ["NONE_LEVEL", [part("a", [286, 286, 286], 2)], /level and clear of each other/],
    ["TOO_MANY", [part("a", [8, 8, 8], 121)], /More than 120 pieces/],
    ["TOO_BIG", [part("a", [900, 500, 80])], /Too big/],
  ])("says why it is %s", (why, parts, words) => {
    const packing = packLoad(loadOf(parts));
    expect(packing).toMatchObject({ packed: false, why });
    expect(packing.words).toMatch(words);
  });

  it("does not lay out what is too many, nor says what is left over then", () => {
    expect(packLoad(loadOf([part("a", [8, 8, 8], 121)]))).toMatchObject({ leftOver: [] });
  });

  it("leaves out of the account of room what stands out of the bath", () => {
    // Each 1150 mm bar is longer than the barrel's diagonal; its bulk above the surface takes no room.
    const barrel: TankShape = {
      kind: "ROUND",
      topDiameterMm: 560,
      bottomDiameterMm: 560,
      depthMm: 860,
    };
    const bars = { ...loadOf([part("bar", [1150, 200, 180], 2)]), shape: barrel, gapMm: 0 };
    expect(packLoad({ ...bars, workingLevelMm: 760 }).packed).toBe(true);
  });
});
