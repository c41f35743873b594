import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Block, distancesIn } from "./distance";

/** Every pair of cells, by the definition. */
function byDefinition({ cells, edges }: Block, marked: Uint8Array): number[] {
  const [nx, ny] = cells;
  const middle = (cell: number): number[] =>
    [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))].map(
      (at, axis) => at * (edges[axis] ?? 0),
    );
  const marks = [...marked.keys()].filter((cell) => marked[cell] !== 0).map(middle);
  return Array.from(marked, (_, cell) => {
    const from = middle(cell);
    return Math.min(
      ...marks.map((to) => Math.hypot(...to.map((value, axis) => value - (from[axis] ?? 0)))),
    );
  });
}

const counts = fc.tuple(
  fc.integer({ min: 1, max: 9 }),
  fc.integer({ min: 1, max: 7 }),
  fc.integer({ min: 1, max: 6 }),
);
const edge = fc.double({ min: 0.002, max: 0.05, noNaN: true });
const blocks = counts.chain(([nx, ny, nz]) =>
  fc.record({
    block: fc.record({
      cells: fc.constant([nx, ny, nz] as const),
      edges: fc.tuple(edge, edge, edge),
    }),
    marked: fc
      .array(fc.integer({ min: 0, max: 12 }), { minLength: nx * ny * nz, maxLength: nx * ny * nz })
      // About one in twelve, by codes other than 1 as well.
      .map((drawn) =>
        Uint8Array.from(drawn, (value) => (value === 12 ? 200 : value === 11 ? 1 : 0)),
      ),
  }),
);

describe("the distance to the nearest marked cell", () => {
  it("is that of the nearest of all, in blocks of any shape with cells of any edges", () => {
    fc.assert(
      fc.property(blocks, ({ block, marked }) => {
        const found = distancesIn(block, marked);
        const expected = byDefinition(block, marked);
        expected.forEach((distance, cell) => {
          if (distance === Infinity) expect(found[cell]).toBe(Infinity);
          else expect(Math.abs((found[cell] ?? NaN) - distance)).toBeLessThan(1e-12);
        });
      }),
      { numRuns: 200 },
    );
  });

  it("takes each edge for its own axis", () => {
    const marked = new Uint8Array(27);
    marked[0] = 1;
    const found = distancesIn({ cells: [3, 3, 3], edges: [0.1, 0.02, 0.003] }, marked);
    expect([found[2], found[6], found[18]]).toEqual([
      expect.closeTo(0.2, 12),
      expect.closeTo(0.04, 12),
      expect.closeTo(0.006, 12),
    ]);
    expect(found[26]).toBeCloseTo(Math.hypot(0.2, 0.04, 0.006), 12);
  });

  it("is without end where nothing is marked, and nothing where all is", () => {
    const block: Block = { cells: [4, 3, 2], edges: [0.1, 0.1, 0.1] };
    expect(new Set(distancesIn(block, new Uint8Array(24)))).toEqual(new Set([Infinity]));
    expect(new Set(distancesIn(block, new Uint8Array(24).fill(1)))).toEqual(new Set([0]));
  });

  it("leaves what is marked as it was", () => {
    const marked = Uint8Array.of(0, 1, 0);
    distancesIn({ cells: [3, 1, 1], edges: [1, 1, 1] }, marked);
    expect([...marked]).toEqual([0, 1, 0]);
  });
});
