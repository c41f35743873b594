import { describe, expect, it } from "vitest";
import { Room } from "./packing-room";
import type { Hanging, Kind, PackingSpace } from "./packing-space";
import { sweepParts, type Weights } from "./packing-sweep";

const space: PackingSpace = { lengthMm: 600, widthMm: 400, heightMm: 300 };

function way(lengthMm: number, widthMm: number, heightMm: number): Hanging {
  const lie = { kind: "WHOLE", up: heightMm, along: lengthMm, across: widthMm } as const;
  return { lie, follows: "LENGTH", lengthMm, widthMm, heightMm };
}

const kind = (copies: number, ...ways: readonly Hanging[]): Kind => ({ copies, ways });

function sweep(kinds: readonly Kind[], order: readonly number[], weights: Weights, gapMm = 0) {
  return sweepParts(kinds, order, weights, new Room(space, gapMm)).map(
    ({ kind: at, block: { xMm, yMm, zMm } }) => [at, xMm, yMm, zMm],
  );
}

describe("a sweep", () => {
  it.each<[string, Weights, readonly number[]]>([
    ["upwards where along and across weigh more", [1, 1, 0.01], [0, 0, 110]],
    ["across where along and upwards weigh more", [1, 0.01, 1], [0, 130, 0]],
    ["along where across and upwards weigh more", [0.01, 1, 1], [230, 0, 0]],
  ])("goes %s", (_where, weights, second) => {
    const hung = sweep([kind(2, way(200, 100, 80))], [0, 0], weights, 30);
    expect(hung).toEqual([
      [0, 0, 0, 0],
      [0, ...second],
    ]);
  });

  it("weighs an end as a share of the tank, not in millimetres", () => {
    // The second ends at 400 of 600 along, at 200 of 400 across, or at 250 of 300 upwards.
    expect(sweep([kind(2, way(200, 100, 125))], [0, 0], [1, 1, 1])[1]).toEqual([0, 0, 100, 0]);
    // 240 of 600 is less than 200 of 400.
    expect(sweep([kind(2, way(120, 100, 150))], [0, 0], [1, 1, 1])[1]).toEqual([0, 120, 0, 0]);
    // 100 of 300 is less than 240 of 600 and 200 of 400.
    expect(sweep([kind(2, way(120, 100, 50))], [0, 0], [1, 1, 1])[1]).toEqual([0, 0, 0, 50]);
  });

  it("counts where a part ends, not where it begins", () => {
    // Of two ways at the same corner the one that ends nearer.
    const turned = kind(1, way(300, 100, 100), way(100, 300, 100));
    const [hung] = sweepParts([turned], [0], [1, 0, 0], new Room(space, 0));
    expect(hung?.hanging.lengthMm).toBe(100);
    const [other] = sweepParts([turned], [0], [0, 1, 0], new Room(space, 0));
    expect(other?.hanging.lengthMm).toBe(300);
    const upright = kind(1, way(100, 100, 200), way(100, 200, 100));
    const [low] = sweepParts([upright], [0], [0, 0, 1], new Room(space, 0));
    expect(low?.hanging.heightMm).toBe(100);
  });

  it("hangs in the order it is given, and passes over what finds no room", () => {
    const kinds = [kind(1, way(600, 400, 200)), kind(2, way(600, 400, 100))];
    expect(sweep(kinds, [0, 1, 1], [1, 1, 1])).toEqual([
      [0, 0, 0, 0],
      [1, 0, 0, 200],
    ]);
    expect(sweep(kinds, [1, 1, 0], [1, 1, 1])).toEqual([
      [1, 0, 0, 0],
      [1, 0, 0, 100],
    ]);
    expect(sweep(kinds, [1, 0], [1, 1, 1])).toEqual([
      [1, 0, 0, 0],
      [0, 0, 0, 100],
    ]);
  });

  it("does not hang a part where another kind has come in the meantime", () => {
    // Kind 0 finds its places first; what kind 1 then takes is no longer free for the second of kind 0.
    const kinds = [kind(2, way(200, 400, 300)), kind(1, way(200, 400, 300))];
    expect(sweep(kinds, [0, 1, 0], [1, 1, 1]).map(([, xMm]) => xMm)).toEqual([0, 200, 400]);
  });

  it("comes back to a place that it found before and did not take", () => {
    const kinds = [kind(2, way(300, 400, 200)), kind(1, way(300, 400, 100))];
    expect(sweep(kinds, [1, 0, 0], [1, 1, 1])).toEqual([
      [1, 0, 0, 0],
      [0, 0, 0, 100],
      [0, 300, 0, 0],
    ]);
  });

  it("finds nothing for a kind that it does not know", () => {
    expect(sweep([], [0], [1, 1, 1])).toEqual([]);
    expect(sweep([kind(1, way(10, 10, 10))], [1, 0], [1, 1, 1])).toEqual([[0, 0, 0, 0]]);
  });

  it("searches new corners alone: the hundredth of a kind costs hardly more than the tenth", () => {
    const work = (copies: number): number => {
      const room = new Room(space, 0);
      sweepParts([kind(copies, way(30, 30, 30))], Array<number>(copies).fill(0), [1, 1, 1], room);
      return room.comparisons;
    };
    expect(work(80) / work(40)).toBeLessThan(6);
  });

  it("does not ask block by block what the room before a corner already tells", () => {
    const room = new Room(space, 0);
    sweepParts([kind(1, way(10, 10, 10), way(700, 10, 10))], [0], [1, 1, 1], room);
    const short = new Room(space, 0);
    sweepParts([kind(1, way(10, 10, 10))], [0], [1, 1, 1], short);
    expect(room.comparisons).toBe(short.comparisons);
  });
});
