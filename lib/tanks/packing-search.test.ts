import { describe, expect, it } from "vitest";
import { searchPacking, seeded } from "./packing-search";
import type { Hanging, Kind, PackingSpace } from "./packing-space";

const space: PackingSpace = { lengthMm: 600, widthMm: 400, heightMm: 300 };

function way(lengthMm: number, widthMm: number, heightMm: number): Hanging {
  const lie = { kind: "WHOLE", up: heightMm, along: lengthMm, across: widthMm } as const;
  return { lie, follows: "LENGTH", lengthMm, widthMm, heightMm };
}

/** Every way to turn it level. */
function turning(copies: number, [l, w, h]: readonly [number, number, number]): Kind {
  const ways = [way(l, w, h), way(l, h, w), way(w, l, h), way(w, h, l), way(h, l, w), way(h, w, l)];
  return { copies, ways: ways.filter(({ heightMm }) => heightMm <= space.heightMm) };
}

describe("a search", () => {
  it("hangs every copy where there is a way, and then stops", () => {
    const kinds = [turning(4, [285, 185, 135]), turning(4, [285, 185, 135])];
    const hung = searchPacking({ space, gapMm: 30, kinds });
    expect(hung.map(({ kind }) => kind).sort()).toEqual([0, 0, 0, 0, 1, 1, 1, 1]);
    expect(searchPacking({ space, gapMm: 30, kinds: [] })).toEqual([]);
  });

  it("hangs the bulkiest first, on the floor, and of equal ones the first named", () => {
    const plates = [
      { copies: 1, ways: [way(500, 300, 10)] },
      { copies: 2, ways: [way(200, 200, 100)] },
      { copies: 1, ways: [way(100, 200, 200)] },
    ];
    const hung = searchPacking({ space, gapMm: 0, kinds: plates }, 0);
    expect(hung.map(({ kind }) => kind)).toEqual([1, 1, 2, 0]);
    expect(hung[0]?.block).toMatchObject({ xMm: 0, yMm: 0, zMm: 0 });
    expect(hung[1]?.block).toMatchObject({ xMm: 200, yMm: 0, zMm: 0 });
  });

  it("makes the first sweep whatever it costs, and no other when it may cost nothing", () => {
    // First the bulky one, which then stands where only the long one could lie.
    const kinds = [
      { copies: 1, ways: [way(590, 190, 300)] },
      { copies: 1, ways: [way(500, 400, 200)] },
    ];
    const once = searchPacking({ space, gapMm: 0, kinds }, 0);
    expect(once.map(({ kind }) => kind)).toEqual([1]);
  });

  it("tries other orders and directions where the first sweep leaves something out", () => {
    // Two slabs on the floor leave no upright room for the rod; side by side on edge they do.
    const kinds = [turning(2, [400, 300, 290]), turning(1, [400, 300, 20])];
    expect(
      searchPacking({ space, gapMm: 0, kinds })
        .map(({ kind }) => kind)
        .sort(),
    ).toEqual([0, 0, 1]);
  });

  it("gives the fullest arrangement where none holds all", () => {
    const hung = searchPacking({ space, gapMm: 0, kinds: [turning(9, [300, 200, 150])] });
    expect(hung).toHaveLength(8);
  });

  it("answers alike each time", () => {
    const kinds = [
      turning(3, [310, 120, 90]),
      turning(5, [170, 130, 110]),
      turning(4, [200, 80, 70]),
    ];
    const once = searchPacking({ space, gapMm: 20, kinds });
    expect(searchPacking({ space, gapMm: 20, kinds })).toEqual(once);
  });
});

describe("numbers that look drawn", () => {
  it("are those of the generator it names", () => {
    // mulberry32 from seed 1, by its published definition (from memory).
    const next = seeded(1);
    expect(next()).toBeCloseTo(0.62707394, 8);
    expect(next()).toBeCloseTo(0.00273572, 8);
    expect(next()).toBeCloseTo(0.52744704, 8);
  });

  it("spread evenly from 0 up to 1", () => {
    const next = seeded(7);
    const drawn = Array.from({ length: 2000 }, next);
    expect(Math.min(...drawn)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...drawn)).toBeLessThan(1);
    const tenths = Array.from(
      { length: 10 },
      (_, at) => drawn.filter((value) => Math.floor(10 * value) === at).length,
    );
    for (const count of tenths) expect(Math.abs(count - 200)).toBeLessThan(60);
  });
});
