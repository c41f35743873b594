import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BathField } from "./bath-field";
import type { Bathful } from "./bathful";
import { catalogueMesh } from "./catalogue";
import { lookAt } from "./look";
import { NO_TURN } from "./mesh";
import { type PolarisedDrive, tafel } from "./polarised";
import { Cancelled } from "./scene";

const bath: Bathful = {
  vessel: {
    kind: "BOX",
    ...{ topLengthM: 0.64, topWidthM: 0.4, bottomLengthM: 0.6, bottomWidthM: 0.36 },
    depthM: 0.4,
  },
  levelM: 0.32,
  anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count: 4, areaM2: 0.3 } }],
  parts: [
    {
      ...{ id: "box", name: "box" },
      mesh: catalogueMesh("BOX", { lengthMm: 300, widthMm: 200, heightMm: 150, wallMm: 1.2 }),
      pose: { rotation: NO_TURN, translation: [0, 0, 0.08] },
    },
  ],
};
const CELLS = 12_000;
const drive = (currentA: number): PolarisedDrive => ({
  ...{ conductivitySPerM: 0.8, currentA },
  ...{ part: tafel(0.12, 0.01), anode: tafel(0.1, 0.03) },
});

describe("a bath that is asked several questions", () => {
  let field: BathField;
  beforeAll(() => {
    field = new BathField(bath, CELLS);
  });
  afterAll(() => field.release());

  it("answers as a look at the same bath does, in whatever order", () => {
    const looks = [2, 6].map((currentA) =>
      lookAt(bath, { cells: CELLS, polarised: drive(currentA) }),
    );
    // Forth and back: an answer does not rest on what was asked before.
    for (const at of [0, 1, 0]) {
      const currentA = [2, 6][at] ?? 0;
      const { parts } = field.figures(drive(currentA));
      const look = looks[at];
      if (!look) throw new Error("no look");
      expect(field.cells).toBe(look.cells.length);
      expect(parts).toHaveLength(1);
      const [mine, its] = [parts[0], look.parts[0]];
      expect(mine?.wetAreaM2).toBe(its?.wetAreaM2);
      expect(mine?.insideShare).toBe(its?.insideShare);
      for (const side of ["outside", "inside"] as const) {
        mine?.[side]?.quantiles.forEach((value, quantile) => {
          expect(value).toBeCloseTo(its?.[side]?.quantiles[quantile] ?? NaN, 2);
        });
      }
      expect(field.shapeLength() / look.shapeLengthM).toBeCloseTo(1, 4);
    }
  });

  it("tells the wear of the anode at the wall, about as deep as the bath", () => {
    const { wear } = field.figures(drive(4));
    expect(wear).toHaveLength(6);
    expect(wear[0]?.fromM).toBe(0);
    expect(wear.at(-1)?.toM).toBeCloseTo(0.32, 9);
    wear.forEach(({ ratio }) => expect(ratio).toBeGreaterThan(0));
    // The part hangs in the middle, so the middle of the wall is nearest.
    expect(wear[2]?.ratio).toBeGreaterThan(wear[0]?.ratio ?? Infinity);
  });

  it("spreads more evenly at a smaller current", () => {
    const lag = (currentA: number): number =>
      field.figures(drive(currentA)).parts[0]?.inside?.quantiles[2] ?? NaN;
    expect(lag(0.5)).toBeGreaterThan(lag(8));
  });

  it("shows the hollow of its part", () => {
    expect(field.hollow().upright(0.02)).toMatchObject({ axis: 2 });
  });
});

describe("a bath that is done with", () => {
  it("refuses more questions", () => {
    const field = new BathField(bath, 8000);
    expect(field.shapeLength()).toBeGreaterThan(0);
    field.release();
    expect(() => field.shapeLength()).toThrow(/released/);
    expect(() => field.figures(drive(2))).toThrow(/released/);
    // Twice does no harm to whoever has the memory by now.
    field.release();
  });

  it("ends when told to", () => {
    const cancel = { cancelled: true };
    const field = new BathField(bath, 8000, cancel);
    expect(() => field.shapeLength()).toThrow(Cancelled);
    cancel.cancelled = false;
    expect(field.shapeLength()).toBeGreaterThan(0);
    cancel.cancelled = true;
    expect(() => field.figures(drive(2))).toThrow(Cancelled);
    field.release();
  });

  it("refuses a bath that cannot be", () => {
    expect(() => new BathField({ ...bath, parts: [] }, 8000)).toThrow(/needs an anode and a part/);
  });
});
