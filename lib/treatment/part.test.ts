import { describe, expect, it } from "vitest";
import { PART_SHAPES } from "./codes";
import { casting } from "./fixtures";
import { type PartDescription, type PartSize, sizePart } from "./part";

/** A part without a weighed mass, of steel unless said. */
const part = (change: Partial<PartDescription>): PartDescription => ({
  ...casting,
  massG: null,
  material: "MILD_STEEL",
  ...change,
});
const cube = { lengthMm: 100, widthMm: 100, heightMm: 100 };
/** Bare area, mm², and metal, mm³, before relief and density. */
const bare = ({ areaM2, steelMassG }: PartSize, density = 7.85): [number, number] => [
  (areaM2.value / 1.1) * 1e6,
  (steelMassG.value / density) * 1000,
];

describe("shapes by their textbook solids", () => {
  it.each<[string, Partial<PartDescription>, number, number]>([
    ["a plate is its six faces", { ...cube, shape: "PLATE", heightMm: 20 }, 28_000, 200_000],
    ["a solid fills half of its box", { ...cube, shape: "SOLID", heightMm: 20 }, 28_000, 100_000],
    // Five bars along and ten across, sixty mm apart, over six tenths of the outline, and two ends bent down.
    [
      "a lattice is its bars",
      { shape: "BAR_GRID", lengthMm: 600, widthMm: 300, heightMm: 30, wallMm: 10 },
      40 * 3660,
      100 * 3660,
    ],
    [
      "a small lattice has two bars each way",
      { shape: "BAR_GRID", lengthMm: 100, widthMm: 60, heightMm: 10, wallMm: 10 / 2.5 },
      16 * (0.6 * (2.5 * 100 + (100 / 24) * 60) + 20),
      16 * (0.6 * (2.5 * 100 + (100 / 24) * 60) + 20),
    ],
    [
      "a bent strap has no fewer than two bars",
      { shape: "BAR_GRID", lengthMm: 100, widthMm: 60, heightMm: 20, wallMm: 10 },
      40 * (0.6 * 320 + 40),
      100 * (0.6 * 320 + 40),
    ],
    // Outside a floor and four walls; inside 80 by 80 and 90 deep.
    [
      "a box is open on one side",
      { ...cube, shape: "BOX", wallMm: 10 },
      50_000 + 6_400 + 28_800,
      1e6 - 80 * 80 * 90,
    ],
    [
      "a long box has long walls",
      { shape: "BOX", lengthMm: 200, widthMm: 100, heightMm: 50, wallMm: 5 },
      20_000 + 30_000 + 190 * 90 + 2 * 280 * 45,
      1e6 - 190 * 90 * 45,
    ],
    [
      "a tube is two cylinders",
      { shape: "TUBE", lengthMm: 100, widthMm: 20, heightMm: 20, wallMm: 2 },
      3600 * Math.PI,
      3600 * Math.PI,
    ],
    [
      "a pan is a floor and a wall, twice",
      { shape: "PAN", lengthMm: 200, widthMm: 200, heightMm: 50, wallMm: 5 },
      (20_000 + 17_575) * Math.PI,
      93_875 * Math.PI,
    ],
    [
      "a ring is a short tube with two faces",
      { shape: "RING", lengthMm: 200, widthMm: 200, heightMm: 20, wallMm: 10 },
      11_400 * Math.PI,
      38_000 * Math.PI,
    ],
  ])("%s", (_what, change, areaMm2, steelMm3) => {
    const [area, steel] = bare(sizePart(part(change)));
    expect(area).toBeCloseTo(areaMm2, 4);
    expect(steel).toBeCloseTo(steelMm3, 4);
  });

  it("know how deep a hollow is for its opening", () => {
    const lag = (change: Partial<PartDescription>): number => sizePart(part(change)).insideLag;
    const tube = { shape: "TUBE", widthMm: 40, heightMm: 40, wallMm: 2 } as const;
    expect(lag({ ...tube, lengthMm: 10 })).toBeCloseTo(1.5, 12);
    expect(lag({ ...tube, lengthMm: 400 })).toBe(3);
    const pan = { shape: "PAN", lengthMm: 200, widthMm: 200, wallMm: 2 } as const;
    expect(lag({ ...pan, heightMm: 50 })).toBeCloseTo(2, 12);
    const tray = { shape: "BOX", lengthMm: 400, widthMm: 200, wallMm: 2 } as const;
    expect(lag({ ...tray, heightMm: 25 })).toBeCloseTo(1.5, 12);
    expect(lag({ ...tray, lengthMm: 200, widthMm: 400, heightMm: 25 })).toBeCloseTo(1.5, 12);
    expect(lag({ ...cube, shape: "PLATE" })).toBe(1);
  });

  it("tell the share that is inside", () => {
    const share = (change: Partial<PartDescription>): number => sizePart(part(change)).insideShare;
    expect(share({ ...cube, shape: "BOX", wallMm: 10 })).toBeCloseTo(35_200 / 85_200, 12);
    expect(share({ shape: "RING", wallMm: 10, ...cube })).toBe(0);
  });
});

describe("a wall", () => {
  it("that nobody measured is a tenth of the smallest measure", () => {
    const known = sizePart(part({ ...cube, shape: "BOX", heightMm: 60, wallMm: 6 }));
    const usual = sizePart(part({ ...cube, shape: "BOX", heightMm: 60, wallMm: null }));
    expect(usual.areaM2.value).toBeCloseTo(known.areaM2.value, 12);
    expect(known.areaM2.inputs.map(({ symbol, value }) => [symbol, value])).toEqual([
      ["l", 100],
      ["w", 100],
      ["h", 60],
      ["t", 6],
    ]);
    expect(usual.areaM2.inputs.map(({ symbol }) => symbol)).toEqual(["l", "w", "h"]);
  });

  it("is no thicker than half of the smallest measure: then nothing is hollow", () => {
    const full = sizePart(part({ ...cube, shape: "BOX", wallMm: 80 }));
    expect(full.insideShare).toBe(0);
    expect(bare(full)[1]).toBeCloseTo(1e6, 4);
  });
});

describe("figures of a part's size", () => {
  it("give the mass by the metal, as far off as a bare solid is", () => {
    const plate = { ...cube, shape: "PLATE", heightMm: 20 } as const;
    const iron = sizePart(part({ ...plate, material: "CAST_IRON" })).steelMassG;
    expect(iron.value).toBeCloseTo(1440, 9);
    expect(iron.low).toBeCloseTo(0.6 * 1440, 9);
    expect(iron.high).toBeCloseTo(1.4 * 1440, 9);
    const inputs = iron.inputs.map(({ symbol, value, unit }) => [symbol, value, unit]);
    expect(inputs).toEqual([
      ["ρ", 7.2, "g/cm³"],
      ["V", 200, "cm³"],
    ]);
    expect(iron).toMatchObject({ unit: "g", standing: "assumption" });
    expect(sizePart(part(plate)).steelMassG.value).toBeCloseTo(1570, 9);
  });

  it("give the area with its error, and every measure in mm", () => {
    const { areaM2 } = sizePart(part({ ...cube, shape: "PLATE", heightMm: 20 }));
    expect(areaM2).toMatchObject({ unit: "m²", standing: "assumption" });
    expect(areaM2.low).toBeCloseTo(0.85 * 0.028, 12);
    expect(areaM2.high).toBeCloseTo(1.35 * 0.028, 12);
    for (const { unit, standing } of areaM2.inputs) {
      expect([unit, standing]).toEqual(["mm", "entered here"]);
    }
  });

  it.each(PART_SHAPES)("show the law of a %s in its own measures", (shape) => {
    const { formula } = sizePart(part({ ...cube, shape, wallMm: 5 })).areaM2;
    expect(formula).toMatch(/^A = 1\.1 × \(.*[lwhd].*\)$/);
  });

  it("name what was measured or weighed as such", () => {
    const { areaM2, steelMassG } = sizePart({ ...casting, areaOverrideM2: 0.2 });
    expect(areaM2).toMatchObject({ name: "area of the part", unit: "m²", formula: "as measured" });
    expect(steelMassG).toMatchObject({
      name: "mass of the part",
      unit: "g",
      formula: "as weighed",
    });
  });

  it.each<[Partial<PartDescription>, RegExp]>([
    [{ lengthMm: 0 }, /^length .*above 0 mm, got 0/],
    [{ widthMm: -5 }, /^width .*above 0 mm, got -5/],
    [{ heightMm: Number.NaN }, /^height .*above 0 mm/],
    [{ wallMm: 0 }, /^wall .*above 0 mm, got 0/],
    [{ massG: 0 }, /^mass .*above 0 g, got 0/],
    [{ areaOverrideM2: 0 }, /^area .*above 0 m², got 0/],
  ])("refuse %j, naming it", (change, words) => {
    expect(() => sizePart(part(change))).toThrow(words);
  });
});
