import { describe, expect, it } from "vitest";
import { millimetres } from "@/lib/units";
import { hangings, isInside, packingSpace } from "./packing-space";
import type { TankShape } from "./shape";

const trough: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: 760,
  topWidthMm: 560,
  bottomLengthMm: 700,
  bottomWidthMm: 500,
  depthMm: 450,
};
const barrel: TankShape = {
  kind: "ROUND",
  topDiameterMm: 600,
  bottomDiameterMm: 600,
  depthMm: 900,
};
const level = millimetres(400);

const box = (lengthMm: number, widthMm: number, heightMm: number) => ({
  lengthMm,
  widthMm,
  heightMm,
});

function ways(part: ReturnType<typeof box>, shape = trough) {
  const found = hangings(part, shape, level, 50);
  if (typeof found === "string") throw new Error(found);
  return found;
}

describe("the free space", () => {
  it("is the narrowest section less the clearance, in the square round a round tank", () => {
    expect(packingSpace(trough, level, 50)).toEqual(box(600, 400, 350));
    expect(packingSpace(barrel, level, 50)).toEqual({ ...box(500, 500, 350), diameterMm: 500 });
  });

  it("of a round tank holds the corners of a plan to its circle", () => {
    const space = packingSpace(barrel, level, 50);
    const at = (xMm: number, yMm: number) => ({ ...box(100, 80, 60), xMm, yMm, zMm: 0 });
    // 150² + 200² = 250².
    expect(isInside(at(100, 50), space)).toBe(true);
    expect(isInside(at(100, 49.9), space)).toBe(false);
    expect(isInside(at(300, 370), space)).toBe(true);
    expect(isInside(at(300.1, 370), space)).toBe(false);
    expect(isInside({ ...at(100, 50), zMm: 290.1 }, space)).toBe(false);
  });
});

describe("the ways to hang a part", () => {
  it("are six for three measures, three for two, one for a cube", () => {
    expect(ways(box(300, 200, 100))).toHaveLength(6);
    expect(ways(box(300, 100, 100))).toHaveLength(3);
    expect(ways(box(100, 100, 100))).toHaveLength(1);
  });

  it("leave out what is too long or too high that way", () => {
    const found = ways(box(500, 380, 100));
    expect(found.map(({ lengthMm, widthMm, heightMm }) => [lengthMm, widthMm, heightMm])).toEqual([
      [500, 380, 100],
    ]);
    expect(found[0]).toMatchObject({
      follows: "LENGTH",
      lie: { kind: "WHOLE", along: 500, across: 380, up: 100 },
    });
  });

  it("are tilted only where none is level, along or across by where there is room", () => {
    const along = ways(box(650, 200, 20));
    expect(along.every(({ lie }) => lie.kind === "TILTED")).toBe(true);
    expect(along.map(({ follows }) => follows)).toContain("LENGTH");
    for (const { follows, lengthMm, widthMm, lie } of along) {
      // As long as the room allows in its plane, as thick as it is across it.
      expect(follows === "LENGTH" ? lengthMm : widthMm).toBeCloseTo(
        follows === "LENGTH" ? 600 : 400,
        6,
      );
      expect(follows === "LENGTH" ? widthMm : lengthMm).toBe(lie.across);
      expect(lie.up).toBeLessThanOrEqual(lie.along);
    }
    // 410 mm is too broad to lie across 400 mm, and 390 mm too high: it tilts across, its 580 mm along the tank.
    expect(ways(box(580, 410, 20), trough).every(({ lie }) => lie.kind === "WHOLE")).toBe(false);
    const across = ways(box(580, 410, 20)).filter(({ follows }) => follows === "WIDTH");
    expect(across).toHaveLength(1);
    expect(across[0]).toMatchObject({ lengthMm: 580, lie: { along: 410, up: 20, across: 580 } });
    expect(across[0]?.widthMm).toBeCloseTo(400, 6);
  });

  it("stand a part that is dipped end for end, either way round", () => {
    // Longer than the diagonal of 500 × 350 mm, and two dips of 320 mm.
    const found = ways(box(640, 60, 40), barrel);
    expect(found.map(({ lie }) => lie)).toEqual(
      Array(2).fill({ kind: "END_FOR_END", dips: 2, up: 640, along: 40, across: 60 }),
    );
    expect(
      found.map(({ follows, ...way }) => [follows, way.lengthMm, way.widthMm, way.heightMm]),
    ).toEqual([
      ["LENGTH", 40, 60, 350],
      ["WIDTH", 60, 40, 350],
    ]);
    // A board that stands one way only: 495 mm go into the 520 mm along, not into the 400 mm across.
    const boards = ways(box(640, 495, 300), { ...trough, bottomLengthMm: 620, topLengthMm: 620 });
    expect(boards.map(({ follows }) => follows)).toEqual(["LENGTH"]);
  });

  it("say why a part does not fit alone", () => {
    expect(hangings(box(900, 500, 80), trough, level, 50)).toContain("Too big");
  });
});
