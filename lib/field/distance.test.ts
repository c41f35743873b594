import fc from "fast-check";
import { expect, it } from "vitest";
import { distancesIn } from "./distance";

it("is the distance to the nearest marked cell, as looking at every one finds it", () => {
  const side = fc.integer({ min: 1, max: 6 });
  const edge = fc.constantFrom(0.01, 0.013, 0.05);
  fc.assert(
    fc.property(
      fc.tuple(side, side, side),
      fc.tuple(edge, edge, edge),
      fc.array(fc.boolean(), { minLength: 216, maxLength: 216 }),
      (cells, edges, marks) => {
        const count = cells[0] * cells[1] * cells[2];
        const marked = Uint8Array.from(marks.slice(0, count), Number);
        const place = (cell: number): number[] => {
          const [i, j] = [cell % cells[0], Math.floor(cell / cells[0]) % cells[1]];
          const k = Math.floor(cell / (cells[0] * cells[1]));
          return [i * edges[0], j * edges[1], k * edges[2]];
        };
        const found = distancesIn({ cells, edges }, marked);
        found.forEach((distance, cell) => {
          let nearest = Infinity;
          marked.forEach((mark, other) => {
            if (mark === 0) return;
            const [here, there] = [place(cell), place(other)];
            const apart = here.map((value, axis) => value - (there[axis] ?? 0));
            nearest = Math.min(nearest, Math.hypot(...apart));
          });
          if (nearest === Infinity) expect(distance).toBe(Infinity);
          else expect(distance).toBeCloseTo(nearest, 10);
        });
      },
    ),
    { numRuns: 200 },
  );
});
