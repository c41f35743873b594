import type { AnodeForm } from "./bathful";
import { BATH, type Faces, FIRST_ELECTRODE, type Grid, INSULATOR } from "./scene";
import { clearance, halfSpans, middleOf, roundTheWall, type Vessel, wallArea } from "./vessel";

type Strips = Extract<AnodeForm, { kind: "STRIPS" }>;

/** What a gap counts as at least: nearer would only spoil the numbers. */
const LEAST_GAP = 0.05;

/**
 * Turns the cells just outside the wall into anode where a strip stands: the sheet lies at the wall, and the bath
 * keeps all its cells.
 */
export function layStrips(
  vessel: Vessel,
  form: Strips,
  grid: Grid,
  codes: Uint8Array,
  electrode: number,
): void {
  const levelM = grid.nz * grid.hz;
  const covered = Math.min(1, form.areaM2 / wallArea(vessel, levelM));
  let cell = 0;
  for (let k = 0; k < grid.nz; k++) {
    // A strip narrower than a cell still takes the cells that its middle runs through.
    const least = form.count * shareOfCell(vessel, grid, (k + 0.5) * grid.hz);
    for (let j = 0; j < grid.ny; j++) {
      for (let i = 0; i < grid.nx; i++, cell++) {
        if (codes[cell] !== INSULATOR || !touchesBath(grid, codes, i, j, k, cell)) continue;
        const place = roundTheWall(vessel, ...middleOf(grid, i, j, k)) * form.count;
        // Each strip stands in the middle of its share of the wall.
        const off = Math.abs(place - Math.floor(place) - 0.5);
        if (off <= Math.max(covered, least) / 2) codes[cell] = FIRST_ELECTRODE + electrode;
      }
    }
  }
}

function touchesBath(
  { nx, ny, nz }: Grid,
  codes: Uint8Array,
  i: number,
  j: number,
  k: number,
  cell: number,
): boolean {
  return (
    (i > 0 && codes[cell - 1] === BATH) ||
    (i < nx - 1 && codes[cell + 1] === BATH) ||
    (j > 0 && codes[cell - nx] === BATH) ||
    (j < ny - 1 && codes[cell + nx] === BATH) ||
    (k > 0 && codes[cell - nx * ny] === BATH) ||
    (k < nz - 1 && codes[cell + nx * ny] === BATH)
  );
}

/** Share of the way round that one cell takes up, at most. */
function shareOfCell(vessel: Vessel, { hx, hy }: Grid, z: number): number {
  const [a, b] = halfSpans(vessel, z);
  if (vessel.kind === "ROUND") return Math.max(hx, hy) / (2 * Math.PI * a);
  return Math.max(hx / (8 * a), hy / (8 * b));
}

/**
 * From the middle of a bath cell to the wall on one of its sides, in lengths of the cell, and how much of that side
 * the wall stands for: the slope of the clearance along it.
 */
export function wallBeside(
  vessel: Vessel,
  [x, y, z]: readonly [number, number, number],
  axis: 0 | 1 | 2,
  stepM: number,
): { readonly gap: number; readonly slope: number } {
  const off = (share: number): number =>
    clearance(
      vessel,
      axis === 0 ? x + share * stepM : x,
      axis === 1 ? y + share * stepM : y,
      axis === 2 ? z + share * stepM : z,
    );
  const [here, there] = [off(0), off(1)];
  // Straight in a box; in a round tank the secant once more brings it near enough.
  let gap = here / (here - there);
  const left = off(gap);
  gap = left > 0 ? gap + ((1 - gap) * left) / (left - there) : (gap * here) / (here - left);
  return {
    gap: Math.min(1, Math.max(LEAST_GAP, gap)),
    slope: Math.abs(here - there) / Math.abs(stepM),
  };
}

/**
 * Spreads the strips' true area over their faces, as much as each stands for of the wall.
 *
 * @param slopes of each face, as `wallBeside` finds it
 */
export function stripAreas(
  vessel: Vessel,
  form: Strips,
  grid: Grid,
  electrode: number,
  faces: Faces,
  slopes: readonly number[],
): void {
  const sideArea = [grid.hy * grid.hz, grid.hx * grid.hz, grid.hx * grid.hy];
  const weight = (face: number): number => slopes[face]! * sideArea[faces.side[face]! >> 1]!;
  let sum = 0;
  for (let face = 0; face < faces.count; face++) {
    if (faces.electrode[face] === electrode) sum += weight(face);
  }
  const facing = Math.min(form.areaM2, wallArea(vessel, grid.nz * grid.hz));
  for (let face = 0; face < faces.count; face++) {
    if (faces.electrode[face] === electrode) faces.areaM2[face] = (weight(face) / sum) * facing;
  }
}
