import { checkRange } from "@/lib/units";
import type { Bathful } from "./bathful";
import type { CellMesh } from "./crossings";
import { facesOf } from "./faces";
import { hangAll } from "./hang";
import type { Mesh } from "./mesh";
import { type Patches, tiePatches } from "./patches";
import { BATH, type Electrode, FIRST_ELECTRODE, type Grid, INSULATOR, type Scene } from "./scene";
import { layStrips } from "./strips";
import { cutSurface, type SmallTriangles } from "./surface";
import { bathBox, clearance } from "./vessel";
import { closeWalls, fillSolid, fillThinBar, type Rows, rowsThrough } from "./voxels";

/** A scene with the true surface that it stands for. */
export type BuiltScene = Scene & {
  readonly patches: Patches;
  /** First face of each cell, −1 where it has none; a cell's faces follow one another. */
  readonly firstFace: Int32Array;
};

/** Cells along each axis are a multiple of this, so that the grid can be halved; of twice this when there are many. */
const MULTIPLE = 8;
const MANY = 96;
/** Electrodes that a byte can tell apart beside bath and insulator. */
const MOST_ELECTRODES = 200;
/** Longest edge of a patch, in lengths of the shortest cell edge: about a cell's side of area. */
const LONGEST_EDGE = 1.3;

/**
 * Cuts a tank with what hangs in it into cells, up to the level; the grid's middle is the tank's, seen from above.
 *
 * Area is conserved: the true surface of every part, rod and plate is cut into patches, along the level and then
 * small, and each wet one gives its area to the faces in front of it (`tiePatches`); strips have the area that they
 * were given. So neither the stair that stands for a slope nor a wall that is thinner than a cell, and one cell thick
 * here, adds or loses any, and both sides of such a wall have faces, distances and areas of their own.
 *
 * Whether things can hang so is asked of the true solids. Where two pieces of metal are nearer than a cell, no bath
 * is left between them here.
 *
 * @param cells about how many, 1000 to 20 000 000
 * @throws RangeError if a measure is out of range, no anode or part hangs in it, one does not lie in the tank or
 * does not reach into the bath, or two pieces of metal overlap
 * @example buildScene(bathful, 100_000).faces.count
 */
export function buildScene(bathful: Bathful, cells: number): BuiltScene {
  checkRange("cells", cells, 1000, 20_000_000, "(count)");
  const electrodes = electrodesOf(bathful);
  const grid = gridFor(bathful, cells);
  const placed = hangAll(bathful);
  const codes = vesselCells(bathful, grid);
  bathful.anodes.forEach(({ form }, electrode) => {
    if (form.kind === "STRIPS") layStrips(bathful.vessel, form, grid, codes, electrode);
  });
  const rows = new Map<number, Rows>();
  for (const { electrode, mesh } of placed)
    rows.set(electrode, rowsThrough(inCells(mesh, grid), grid));
  for (const [electrode, through] of rows) {
    fillSolid(grid, through, codes, FIRST_ELECTRODE + electrode);
  }
  // What is solid comes first: a wall closed for one piece must not take cells that another truly fills.
  for (const [electrode, through] of rows) {
    closeWalls(grid, through, codes, FIRST_ELECTRODE + electrode);
  }
  const longest = LONGEST_EDGE * Math.min(grid.hx, grid.hy, grid.hz);
  const surface = cutSurface(placed, bathful.levelM, longest);
  fillThinBars(grid, codes, surface);
  const { faces, firstFace } = facesOf(bathful, grid, codes, rows);
  const patches = tiePatches(surface, grid, firstFace, faces);
  return { grid, cells: codes, electrodes, faces, patches, firstFace };
}

function gridFor({ vessel, levelM, anodes }: Bathful, cells: number): Grid {
  const [x, y, z] = bathBox(vessel, levelM);
  // Strips lie outside the wall, in a margin of one cell.
  const margin = anodes.some(({ form }) => form.kind === "STRIPS") ? 2 : 0;
  const edge = Math.cbrt((x * y * z) / cells);
  const along = (length: number, more: number): number => {
    const wanted = length / edge + more;
    const multiple = wanted > MANY ? 2 * MULTIPLE : MULTIPLE;
    return multiple * Math.max(1, Math.round(wanted / multiple));
  };
  const [nx, ny, nz] = [along(x, margin), along(y, margin), along(z, 0)];
  return { nx, ny, nz, hx: x / (nx - margin), hy: y / (ny - margin), hz: z / nz };
}

/** Anodes first, then parts. */
function electrodesOf({ anodes, parts }: Bathful): readonly Electrode[] {
  if (anodes.length === 0 || parts.length === 0) {
    throw new RangeError(
      `a bath needs an anode and a part, got ${anodes.length} and ${parts.length}`,
    );
  }
  checkRange("pieces of metal", anodes.length + parts.length, 2, MOST_ELECTRODES, "(count)");
  return [
    ...anodes.map(({ id, name }) => ({ kind: "ANODE" as const, id, name })),
    ...parts.map(({ id, name }) => ({ kind: "PART" as const, id, name })),
  ];
}

/** From the middle of the tank's floor, in metres, to the grid's corner, in cells. */
function inCells({ positions, indices }: Mesh, { nx, ny, hx, hy, hz }: Grid): CellMesh {
  const scaled = new Float64Array(positions.length);
  for (let at = 0; at < positions.length; at += 3) {
    scaled[at] = positions[at]! / hx + nx / 2;
    scaled[at + 1] = positions[at + 1]! / hy + ny / 2;
    scaled[at + 2] = positions[at + 2]! / hz;
  }
  return { positions: scaled, indices };
}

function vesselCells({ vessel }: Bathful, { nx, ny, nz, hx, hy, hz }: Grid): Uint8Array {
  const codes = new Uint8Array(nx * ny * nz).fill(INSULATOR);
  for (let k = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      const row = nx * (j + ny * k);
      const [y, z] = [(j + 0.5 - ny / 2) * hy, (k + 0.5) * hz];
      // Both ends of a row lie alike: what is cut off one is cut off the other.
      let out = 0;
      while (2 * out < nx && clearance(vessel, (out + 0.5 - nx / 2) * hx, y, z) <= 0) out++;
      codes.fill(BATH, row + out, row + nx - out);
    }
  }
  return codes;
}

function fillThinBars(grid: Grid, codes: Uint8Array, surface: SmallTriangles): void {
  const { count, wet, electrode, middle } = surface;
  for (let patch = 0; patch < count; patch++) {
    if (wet[patch] === 0) continue;
    const i = Math.floor(middle[3 * patch]! / grid.hx + grid.nx / 2);
    const j = Math.floor(middle[3 * patch + 1]! / grid.hy + grid.ny / 2);
    const k = Math.floor(middle[3 * patch + 2]! / grid.hz);
    fillThinBar(grid, codes, FIRST_ELECTRODE + electrode[patch]!, i, j, k);
  }
}
