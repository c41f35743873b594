import { describe, expect, it } from "vitest";
import { catalogueMesh, type CatalogueShape } from "./catalogue";
import { boxOf, measure } from "./mesh";

const measures = { lengthMm: 400, widthMm: 200, heightMm: 150, wallMm: 10 };
const SHAPES: readonly CatalogueShape[] = [
  "PLATE",
  "SOLID",
  "BAR_GRID",
  "BOX",
  "TUBE",
  "PAN",
  "RING",
];

/** How often each edge is walked one way less the other: 0 all over in a closed mesh. */
function openEdges(indices: Uint32Array): number {
  const walked = new Map<string, number>();
  for (let at = 0; at < indices.length; at += 3) {
    const corners = [indices[at], indices[at + 1], indices[at + 2]] as number[];
    corners.forEach((from, place) => {
      const to = corners[(place + 1) % 3] ?? 0;
      const key = from < to ? `${from} ${to}` : `${to} ${from}`;
      walked.set(key, (walked.get(key) ?? 0) + (from < to ? 1 : -1));
    });
  }
  return [...walked.values()].filter((count) => count !== 0).length;
}

describe("catalogue shapes", () => {
  it.each(SHAPES)("%s is closed and faces outwards", (shape) => {
    const mesh = catalogueMesh(shape, measures);
    expect(openEdges(mesh.indices)).toBe(0);
    expect(measure(mesh).volumeM3).toBeGreaterThan(0);
  });

  it.each(SHAPES)("%s stands in its box", (shape) => {
    const { least, most } = boxOf(catalogueMesh(shape, measures));
    expect(least[2]).toBeCloseTo(0, 9);
    expect(most[0] - least[0]).toBeCloseTo(0.4, 3);
  });

  it.each<[CatalogueShape, number, number]>([
    ["PLATE", 0.34, 0.012],
    [
      "BOX",
      0.26 + 0.38 * 0.18 + 2 * (0.38 + 0.18) * 0.14 + 2 * 0.01 * (0.4 + 0.18),
      0.4 * 0.2 * 0.15 - 0.38 * 0.18 * 0.14,
    ],
    ["TUBE", 0, Math.PI * 0.4 * (0.1 ** 2 - 0.09 ** 2)],
    ["RING", 0, Math.PI * 0.15 * (0.2 ** 2 - 0.19 ** 2)],
    ["SOLID", 0, (Math.PI / 6) * 0.012],
  ])("%s has the textbook's area and volume", (shape, areaM2, volumeM3) => {
    const found = measure(catalogueMesh(shape, measures));
    if (areaM2 > 0) expect(found.areaM2).toBeCloseTo(areaM2, 6);
    expect(Math.abs(found.volumeM3 / volumeM3 - 1)).toBeLessThan(0.01);
  });

  it("takes a tenth of the smallest measure where no wall is given", () => {
    const thin = measure(catalogueMesh("BOX", { ...measures, wallMm: null }));
    expect(thin.volumeM3).toBeCloseTo(0.4 * 0.2 * 0.15 - 0.37 * 0.17 * 0.135, 9);
  });

  it("refuses a measure that is none", () => {
    expect(() => catalogueMesh("PAN", { ...measures, heightMm: 0 })).toThrow(/height.*mm/);
  });
});
