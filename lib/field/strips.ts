import type { AnodeForm, Bathful } from "./bathful";
import { BATH, type Faces, FIRST_ELECTRODE, type Grid, INSULATOR } from "./scene";
import { middleOf, roundTheWall, toWall, type Vessel, wallArea } from "./vessel";
import { stepsOf } from "./voxels";

type Strips = Extract<AnodeForm, { kind: "STRIPS" }>;

/** Turns the bath cells at the wall into anode where a strip stands. */
export function layStrips(
  vessel: Vessel,
  form: Strips,
  grid: Grid,
  codes: Uint8Array,
  electrode: number,
): void {
  const covered = Math.min(1, form.areaM2 / wallArea(vessel, grid.nz * grid.hz));
  const atWall: number[] = [];
  const [, row, layer] = stepsOf(grid);
  for (let k = 0; k < grid.nz; k++) {
    for (let j = 0; j < grid.ny; j++) {
      for (let i = 0; i < grid.nx; i++) {
        const cell = i + row * j + layer * k;
        if (codes[cell] !== BATH || !touchesWall(grid, codes, i, j, cell)) continue;
        const round = roundTheWall(vessel, ...middleOf(grid, i, j, k)) * form.count;
        // Each strip stands in the middle of its share of the wall.
        if (Math.abs(round - Math.floor(round) - 0.5) <= covered / 2) atWall.push(cell);
      }
    }
  }
  for (const cell of atWall) codes[cell] = FIRST_ELECTRODE + electrode;
}

function touchesWall(
  { nx, ny }: Grid,
  codes: Uint8Array,
  i: number,
  j: number,
  cell: number,
): boolean {
  return (
    i === 0 ||
    j === 0 ||
    i === nx - 1 ||
    j === ny - 1 ||
    codes[cell - 1] === INSULATOR ||
    codes[cell + 1] === INSULATOR ||
    codes[cell - nx] === INSULATOR ||
    codes[cell + nx] === INSULATOR
  );
}

/**
 * The strips' true area, spread over their faces as these look at the wall. What faces along the wall is the edge
 * of a thin sheet, and has none.
 */
export function stripAreas({ vessel, anodes }: Bathful, grid: Grid, faces: Faces): void {
  anodes.forEach(({ form }, electrode) => {
    if (form.kind !== "STRIPS") return;
    const wall = wallArea(vessel, grid.nz * grid.hz);
    const looking: { readonly face: number; readonly area: number }[] = [];
    for (let face = 0; face < faces.count; face++) {
      const side = faces.side[face]!;
      if (faces.electrode[face] !== electrode || side > 3) continue;
      const cell = faces.cell[face]!;
      const place = middleOf(
        grid,
        cell % grid.nx,
        Math.floor(cell / grid.nx) % grid.ny,
        Math.floor(cell / (grid.nx * grid.ny)),
      );
      const length = side < 2 ? grid.hx : grid.hy;
      if (toWall(vessel, place, side) > 2 * length) continue;
      looking.push({ face, area: (side < 2 ? grid.hy : grid.hx) * grid.hz });
    }
    const sum = looking.reduce((total, { area }) => total + area, 0);
    const facing = Math.min(form.areaM2, wall);
    for (const { face, area } of looking) faces.areaM2[face] = (area / sum) * facing;
  });
}
