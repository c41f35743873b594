import { describe, expect, it } from "vitest";
import { fillCorners } from "./packing-fill";
import { Room } from "./packing-room";
import type { Block, Hanging, Kind, PackingSpace } from "./packing-space";

const space: PackingSpace = { lengthMm: 600, widthMm: 400, heightMm: 300 };
/** One turn for each direction, snug to a thousandth; then the same, nearly snug. */
const TURNS = Array.from({ length: 12 }, (_, turn) => turn);

function way(lengthMm: number, widthMm: number, heightMm: number): Hanging {
  const lie = { kind: "WHOLE", up: heightMm, along: lengthMm, across: widthMm } as const;
  return { lie, follows: "LENGTH", lengthMm, widthMm, heightMm };
}

const kind = (copies: number, ...ways: readonly Hanging[]): Kind => ({ copies, ways });

function fill(kinds: readonly Kind[], turn: number, favour = kinds.map(() => 1), gapMm = 0) {
  return fillCorners(kinds, { turn, favour }, new Room(space, gapMm));
}

const corner = ({ xMm, yMm, zMm }: Block) => [xMm, yMm, zMm];

describe("filling corner by corner", () => {
  it.each(TURNS)("fills a tank to the last piece, whatever comes first (turn %i)", (turn) => {
    const hung = fill([kind(8, way(285, 185, 135))], turn, [1], 30);
    expect(hung).toHaveLength(8);
    expect(new Set(hung.map(({ block }) => corner(block).join(" "))).size).toBe(8);
  });

  it.each([
    [0, "upwards, across, along", [0, 0, 110], [0, 130, 0]],
    [1, "along, upwards, across", [230, 0, 0], [0, 0, 110]],
    [2, "across, along, upwards", [0, 130, 0], [230, 0, 0]],
    [3, "across, upwards, along", [0, 130, 0], [0, 0, 110]],
    [4, "along, across, upwards", [230, 0, 0], [0, 130, 0]],
    [5, "upwards, along, across", [0, 0, 110], [230, 0, 0]],
    [6, "upwards again, nearly snug", [0, 0, 110], [0, 130, 0]],
  ])("turn %i goes %s", (turn, _way, second, third) => {
    const piece = way(200, 100, 80);
    const [first, next] = fill([kind(2, piece)], turn, [1], 30);
    expect(first && corner(first.block)).toEqual([0, 0, 0]);
    expect(next && corner(next.block)).toEqual(second);
    // Where that direction is used up, the next of its order.
    const [size, used] = [{ ...space }, second.findIndex((at) => at > 0)];
    if (used === 0) size.lengthMm = 200;
    if (used === 1) size.widthMm = 100;
    if (used === 2) size.heightMm = 80;
    const narrow = fillCorners([kind(2, piece)], { turn, favour: [1] }, new Room(size, 30));
    expect(narrow[1] && corner(narrow[1].block)).toEqual(third);
  });

  it("hangs first what is snug on most sides, however small", () => {
    const kinds = [kind(1, way(500, 390, 250)), kind(1, way(600, 20, 20))];
    expect(fill(kinds, 0)[0]?.kind).toBe(1);
    const flush = [kind(1, way(600, 20, 20)), kind(1, way(600, 400, 10))];
    expect(fill(flush, 0)[0]?.kind).toBe(1);
  });

  it("of what is as snug, hangs first the bulkier, by its favour", () => {
    const kinds = [kind(1, way(100, 100, 100)), kind(1, way(120, 100, 100))];
    expect(fill(kinds, 0)[0]?.kind).toBe(1);
    expect(fill(kinds, 0, [1.3, 1])[0]?.kind).toBe(0);
    expect(fill(kinds, 0, [1, 0.8])[0]?.kind).toBe(0);
    expect(fill(kinds, 0, [1.1, 1])[0]?.kind).toBe(1);
  });

  it("takes nearly snug for snug in every second round of turns alone", () => {
    // 580 of 600 mm leaves less than a twentieth, and more than a thousandth.
    const kinds = [kind(1, way(500, 300, 200)), kind(1, way(580, 20, 20))];
    const first = (turn: number) => fill(kinds, turn)[0]?.kind;
    expect([0, 5, 12, 17].map(first)).toEqual([0, 0, 0, 0]);
    expect([6, 11, 18].map(first)).toEqual([1, 1, 1]);
  });

  it("hangs a piece the way that is snug", () => {
    const [hung] = fill([kind(1, way(400, 300, 100), way(300, 400, 100))], 0);
    expect(hung?.block).toMatchObject({ lengthMm: 300, widthMm: 400 });
  });

  it("goes back where what it hung first leaves no room for the rest", () => {
    // The first, bulkier and as snug, stands in the way of the other however that is turned: both fit only the other way.
    const both = [kind(1, way(400, 400, 300), way(390, 400, 300)), kind(1, way(210, 400, 300))];
    for (const turn of TURNS) {
      const hung = fill(both, turn);
      expect(hung).toHaveLength(2);
      expect(hung.find(({ kind: at }) => at === 0)?.block.lengthMm).toBe(390);
    }
  });

  it("passes over a corner that takes nothing", () => {
    // Above the first there is too little for any, beside it there is enough.
    const hung = fill([kind(2, way(300, 400, 200))], 0);
    expect(hung.map(({ block }) => corner(block))).toEqual([
      [0, 0, 0],
      [300, 0, 0],
    ]);
  });

  it("gives the fullest it met where not all go in, each copy once", () => {
    const hung = fill([kind(3, way(300, 400, 300)), kind(1, way(600, 400, 300))], 0);
    expect(hung.map(({ kind: at }) => at)).toEqual([0, 0]);
    expect(fill([kind(1, way(601, 10, 10))], 0)).toEqual([]);
    expect(fill([], 0)).toEqual([]);
  });

  it("hangs no more copies than there are, and stops there", () => {
    const room = new Room(space, 30);
    const kinds = [kind(2, way(100, 90, 80)), kind(3, way(60, 50, 40))];
    const hung = fillCorners(kinds, { turn: 0, favour: [1, 1] }, room);
    expect(hung.map(({ kind: at }) => at).sort()).toEqual([0, 0, 1, 1, 1]);
    // What was found still hangs: nothing was taken off again.
    expect(room.blocks).toBe(5);
  });

  it("counts a copy back in when it takes it off again", () => {
    // The long one lies where the two short ones would have to go; they go in once it is turned.
    const kinds = [kind(1, way(600, 210, 300), way(400, 200, 300)), kind(2, way(300, 200, 300))];
    for (const turn of TURNS) {
      const hung = fill(kinds, turn);
      expect(hung.filter(({ kind: at }) => at === 0).length).toBeLessThanOrEqual(1);
      expect(hung.filter(({ kind: at }) => at === 1).length).toBeLessThanOrEqual(2);
      expect(hung).toHaveLength(3);
    }
  });

  it("gives up a hopeless load soon", () => {
    const room = new Room(space, 0);
    const hung = fillCorners([kind(60, way(110, 70, 50))], { turn: 0, favour: [1] }, room);
    expect(hung.length).toBeGreaterThan(30);
    expect(hung.length).toBeLessThanOrEqual(40);
  });
});
