import { describe, expect, it } from "vitest";
import { Room } from "./packing-room";
import type { Block, PackingSpace } from "./packing-space";

const space: PackingSpace = { lengthMm: 600, widthMm: 400, heightMm: 300 };
const round: PackingSpace = { lengthMm: 500, widthMm: 500, heightMm: 300, diameterMm: 500 };

type Triple = readonly [number, number, number];

function block([xMm, yMm, zMm]: Triple, [lengthMm, widthMm, heightMm]: Triple): Block {
  return { xMm, yMm, zMm, lengthMm, widthMm, heightMm };
}

const sized = ([lengthMm, widthMm, heightMm]: Triple) => ({ lengthMm, widthMm, heightMm });

function roomWith(...blocks: readonly Block[]): Room {
  const room = new Room(space, 30);
  for (const hung of blocks) room.add(hung);
  return room;
}

const first = block([0, 0, 0], [200, 100, 80]);

describe("a room that is being filled", () => {
  it("takes what is inside, to the walls", () => {
    const room = new Room(space, 30);
    expect(room.takes(block([0, 0, 0], [600, 400, 300]))).toBe(true);
    expect(room.takes(block([1, 0, 0], [600, 400, 300]))).toBe(false);
    expect(room.takes(block([0, 0, 0], [600, 400.1, 300]))).toBe(false);
    expect(room.takes(block([0, 0, -0.1], [10, 10, 10]))).toBe(false);
  });

  it.each<[string, Triple, Triple]>([
    ["to the right", [230, 0, 0], [229.9, 0, 0]],
    ["behind", [0, 130, 0], [0, 129.9, 0]],
    ["above", [0, 0, 110], [0, 0, 109.9]],
  ])("keeps the gap %s of what hangs", (_where, clear, near) => {
    const room = roomWith(first);
    expect(room.takes(block(clear, [50, 50, 50]))).toBe(true);
    expect(room.takes(block(near, [50, 50, 50]))).toBe(false);
  });

  it.each<[string, Triple, Triple]>([
    ["to the left", [220, 200, 100], [220.1, 200, 100]],
    ["before", [300, 120, 100], [300, 120.1, 100]],
    ["below", [300, 200, 20], [300, 200, 20.1]],
  ])("keeps the gap %s of what hangs", (_where, clear, near) => {
    const room = roomWith(block([300, 200, 100], [50, 50, 50]));
    expect(room.takes(block(clear, [50, 50, 50]))).toBe(true);
    expect(room.takes(block(near, [50, 50, 50]))).toBe(false);
  });

  it("asks only of what came since, where told to", () => {
    const room = roomWith(first, block([300, 0, 0], [50, 50, 50]));
    const onFirst = block([100, 50, 0], [50, 50, 50]);
    expect(room.takes(onFirst)).toBe(false);
    expect(room.takes(onFirst, 1)).toBe(true);
    expect(room.takes(block([310, 0, 0], [10, 10, 10]), 1)).toBe(false);
  });

  it("offers the corners beside, behind and above, slid to what holds them", () => {
    expect(roomWith(first).corners).toEqual([
      [0, 0, 0],
      [230, 0, 0],
      [0, 130, 0],
      [0, 0, 110],
    ]);
    const second = block([230, 0, 0], [100, 200, 40]);
    // What is above the second leans on the first, which is higher.
    expect(roomWith(first, second).corners.slice(4)).toEqual([
      [360, 0, 0],
      [0, 230, 0],
      [230, 230, 0],
      [230, 0, 70],
    ]);
  });

  it("offers no corner in the wall", () => {
    expect(roomWith(block([0, 0, 0], [570, 370, 270])).corners).toEqual([[0, 0, 0]]);
    expect(roomWith(block([0, 0, 0], [569, 369, 269])).corners).toHaveLength(4);
  });

  it("goes back to what it was", () => {
    const room = roomWith(first);
    const corners = [...room.corners];
    room.add(block([230, 0, 0], [100, 100, 100]));
    expect(room.blocks).toBe(2);
    room.rewind(1, corners.length);
    expect(room.blocks).toBe(1);
    expect(room.corners).toEqual(corners);
    expect(room.takes(block([230, 0, 0], [100, 100, 100]))).toBe(true);
  });

  it("counts its work", () => {
    const room = roomWith(first);
    const before = room.comparisons;
    room.takes(block([300, 0, 0], [50, 50, 50]));
    expect(room.comparisons).toBe(before + 2);
    room.takes(block([900, 0, 0], [50, 50, 50]));
    expect(room.comparisons).toBe(before + 3);
  });
});

describe("the gauge of a corner", () => {
  const room = roomWith(block([400, 0, 0], [100, 400, 300]), block([0, 300, 0], [100, 100, 300]));

  it("measures up to the gap before the next block, and to the wall", () => {
    const { mayFit } = room.gauge([0, 0, 0]);
    expect(mayFit(sized([370, 270, 300]))).toBe(true);
    expect(mayFit(sized([370.1, 270, 300]))).toBe(false);
    expect(mayFit(sized([370, 270.1, 300]))).toBe(false);
    expect(mayFit(sized([370, 270, 300.1]))).toBe(false);
  });

  it("looks past what lies beside or behind", () => {
    const { mayFit } = room.gauge([130, 0, 0]);
    expect(mayFit(sized([240, 400, 300]))).toBe(true);
    const beyond = room.gauge([530, 0, 0]);
    expect(beyond.mayFit(sized([70, 400, 300]))).toBe(true);
    expect(beyond.mayFit(sized([70.1, 400, 300]))).toBe(false);
  });

  it("has no room where a block covers it", () => {
    expect(room.gauge([410, 10, 10]).mayFit(sized([1, 1, 1]))).toBe(false);
  });

  it("counts the sides on which a part is snug", () => {
    const { snugSides } = room.gauge([0, 0, 0]);
    expect(snugSides(sized([370, 270, 300]), 0.01)).toBe(3);
    expect(snugSides(sized([365, 267, 298]), 0.01)).toBe(3);
    expect(snugSides(sized([363, 267, 298]), 0.01)).toBe(2);
    expect(snugSides(sized([363, 265, 298]), 0.01)).toBe(1);
    expect(snugSides(sized([363, 265, 296]), 0.01)).toBe(0);
  });

  it("leaves the answer to the outline in a round tank", () => {
    const room = new Room(round, 30);
    expect(room.gauge([0, 0, 0]).mayFit(sized([480, 10, 10]))).toBe(true);
    // Only 50 mm before the wall, but the part goes back to the middle line.
    expect(room.gauge([450, 0, 0]).mayFit(sized([100, 10, 10]))).toBe(true);
    expect(room.takes(block([200, 6, 0], [100, 10, 10]))).toBe(true);
  });
});

describe("places at a corner", () => {
  it("are the corner itself in a box", () => {
    expect(new Room(space, 30).placesAt([10, 20, 30], sized([1, 2, 3]))).toEqual([
      block([10, 20, 30], [1, 2, 3]),
    ]);
  });

  it("go inward in a round tank until the part touches the outline", () => {
    const room = new Room(round, 30);
    const size: Triple = [100, 300, 50];
    const places = room.placesAt([0, 100, 0], sized(size));
    expect(places).toContainEqual(block([0, 100, 0], size));
    // On the middle line across, 150 mm either way: 250 − √(250² − 150²) = 50.
    expect(places).toContainEqual(block([50, 100, 0], size));
    // On the middle line along, 50 mm either way: 250 − √(250² − 50²) = 5.1, but not before the corner.
    expect(places).toContainEqual(block([200, 100, 0], size));
    const touching = places.filter((place) => room.takes(place));
    expect(touching.length).toBeGreaterThanOrEqual(2);
  });

  it("begin half a gap before the middle, for two that share the tank", () => {
    const places = new Room(round, 30).placesAt([0, 0, 0], sized([100, 120, 50]));
    expect(places).toContainEqual(block([135, 115, 0], [100, 120, 50]));
  });

  it("never lie before the corner, and touch the outline where they go inward", () => {
    const room = new Room(round, 30);
    const size: Triple = [100, 300, 50];
    // 250 − √(250² − 150²) = 50 along, 250 − √(250² − 150²) = 50 across, 5.05 on the middle line.
    const onMiddleLine = 250 - Math.sqrt(250 ** 2 - 50 ** 2);
    const from = (x: number, y: number) =>
      room.placesAt([x, y, 7], sized(size)).map(({ xMm, yMm, zMm }) => [xMm, yMm, zMm]);
    expect(from(0, 0)).toEqual([
      [0, 0, 7],
      [250, 0, 7],
      [0, 250, 7],
      [50, 100, 7],
      [200, expect.closeTo(onMiddleLine, 9), 7],
      [135, 0, 7],
    ]);
    expect(from(160, 20)).toEqual([
      [160, 20, 7],
      [160, 20, 7],
      [160, 20, 7],
      [160, 100, 7],
      [200, 20, 7],
      [160, 20, 7],
    ]);
  });
});
