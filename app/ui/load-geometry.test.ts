import { describe, expect, it } from "vitest";
import type { Place } from "@/lib/tanks";
import { pieceLabel, placeWords, tagsOf, tiltedCorners } from "./load-geometry";

const parts = [
  { id: "a", label: "A", description: "hinge", quantity: 2 },
  { id: "b", label: "12-B", description: "grate", quantity: 1 },
];

const level: Place = {
  id: "a",
  copy: 2,
  lie: { kind: "WHOLE", up: 60, along: 100, across: 80 },
  follows: "WIDTH",
  xMm: 10,
  yMm: 20,
  zMm: 30,
  lengthMm: 80,
  widthMm: 100,
  heightMm: 60,
};

describe("the name of a piece", () => {
  it("tells pieces of one part apart, and leaves a single one its mark", () => {
    expect(pieceLabel(level, parts)).toBe("A·2");
    expect(pieceLabel({ id: "b", copy: 1 }, parts)).toBe("12-B");
  });
});

describe("labels in a drawing", () => {
  it("stand at the middle of each piece where they are clear of each other", () => {
    const pieces = [
      { middle: [100, 100], label: "A" },
      { middle: [100, 140], label: "B" },
    ] as const;
    expect(tagsOf(pieces, 40)).toEqual([
      { at: [100, 100], text: "A" },
      { at: [100, 140], text: "B" },
    ]);
  });

  it("are joined where they would cover each other, the nearest piece first", () => {
    const stacked = ["A", "B", "C", "D"].map((label) => ({ middle: [5, 5] as const, label }));
    expect(tagsOf(stacked.slice(0, 3), 40)).toEqual([{ at: [5, 5], text: "C B A" }]);
    expect(tagsOf(stacked, 40)).toEqual([{ at: [5, 5], text: "D +3" }]);
  });
});

describe("a tilted piece from the side", () => {
  it("touches all four sides of the room that it takes up", () => {
    const tilted: Place = {
      ...level,
      lie: { kind: "TILTED", tiltDegrees: 30, up: 60, along: 100, across: 80 },
    };
    const corners = tiltedCorners(tilted);
    const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    expect([Math.min(...xs), Math.min(...ys)]).toEqual([0, 0]);
    expect(Math.max(...xs)).toBeCloseTo(100 * Math.cos(Math.PI / 6) + 30, 9);
    expect(Math.max(...ys)).toBeCloseTo(50 + 60 * Math.cos(Math.PI / 6), 9);
    expect(tiltedCorners(level)).toEqual([]);
  });
});

describe("where a piece hangs, in words", () => {
  it("is told from walls and floor, the clearance added, in the shop's units", () => {
    expect(placeWords(level, { clearanceMm: 50 }, "METRIC")).toEqual({
      left: "60 mm",
      front: "70 mm",
      floor: "80 mm",
      turned: "level: 80 mm along, 100 mm across, 60 mm high",
    });
    expect(placeWords({ ...level, xMm: 204 }, { clearanceMm: 50 }, "US").left).toBe("10 in");
  });

  it("says how a tilted piece leans, and how one that is dipped end for end stands", () => {
    const tilted: Place = {
      ...level,
      lie: { kind: "TILTED", tiltDegrees: 24.4, up: 20, along: 650, across: 30 },
    };
    expect(placeWords(tilted, { clearanceMm: 50 }, "METRIC").turned).toBe(
      "tilted by 24° across the tank, 650 × 20 mm seen from the side, 30 mm thick",
    );
    const upright: Place = {
      ...level,
      lie: { kind: "END_FOR_END", dips: 2, up: 1150, along: 100, across: 80 },
    };
    expect(placeWords(upright, { clearanceMm: 50 }, "METRIC").turned).toBe(
      "upright, one end under: 80 mm along, 100 mm across, 1150 mm high",
    );
  });
});
