import { checkRange } from "@/lib/units";
import { anodeMesh, type Bathful } from "./bathful";
import { moved, type Mesh, NO_TURN } from "./mesh";
import { cutPatches, type Patches, type PlacedMesh } from "./patches";
import {
  BATH,
  type Electrode,
  type Faces,
  FIRST_ELECTRODE,
  type Grid,
  INSULATOR,
  type Scene,
} from "./scene";
import { layStrips, stripAreas } from "./strips";
import { bathBox, isWithin, middleOf, toWall } from "./vessel";
import { gapOf, stepsOf, type Voxels, voxelsOf } from "./voxels";

/** A scene with the true surface that it stands for. */
export type BuiltScene = Scene & {
  readonly patches: Patches;
  /** First face of each cell, −1 where it has none; a cell's faces follow one another. */
  readonly firstFace: Int32Array;
};

/** Cells along each axis are a multiple of this, so that the grid can be halved. */
const MULTIPLE = 8;
/** A strip at the wall may stand so much off its cell, in lengths of a cell. */
const FURTHEST_FROM_WALL = 2;
/** Electrodes that a byte can tell apart beside bath and insulator. */
const MOST_ELECTRODES = 200;

/**
 * Cuts a tank with what hangs in it into cells.
 *
 * Area is conserved: the true surface of every part, rod and plate is cut into patches, each tied to one face of a
 * cell, and a face has the area of its patches; strips have the area that they were given. A wall thinner than a
 * cell is one cell thick here, and its two sides keep their own faces, places and areas.
 *
 * @param cells about how many, 1000 to 20 000 000
 * @throws RangeError if a measure is out of range, nothing hangs in it, or two pieces of metal overlap
 * @example buildScene(bathful, 100_000).faces.count
 */
export function buildScene(bathful: Bathful, cells: number): BuiltScene {
  checkRange("cells", cells, 1000, 20_000_000, "(count)");
  const grid = gridFor(bathful, cells);
  const electrodes = electrodesOf(bathful);
  const codes = vesselCells(bathful, grid);
  bathful.anodes.forEach(({ form }, electrode) => {
    if (form.kind === "STRIPS") layStrips(bathful.vessel, form, grid, codes, electrode);
  });
  const placed = placedMeshes(bathful);
  const voxels = new Map<number, Voxels>();
  for (const { electrode, mesh } of placed) {
    const cut = voxelsOf(fromCorner(mesh, grid), grid);
    voxels.set(electrode, cut);
    putIn(codes, cut, electrode, electrodes);
  }
  const { faces, firstFace } = facesOf(bathful, grid, codes, voxels);
  const patches = cutPatches(placed, {
    ...{ grid, cells: codes, firstFace },
    faceCell: faces.cell,
    faceSide: faces.side,
    faceElectrode: faces.electrode,
  });
  for (let patch = 0; patch < patches.count; patch++) {
    const face = patches.face[patch]!;
    if (face >= 0) faces.areaM2[face] = faces.areaM2[face]! + patches.areaM2[patch]!;
  }
  return { grid, cells: codes, electrodes, faces, patches, firstFace };
}

function gridFor({ vessel, levelM }: Bathful, cells: number): Grid {
  const [x, y, z] = bathBox(vessel, levelM);
  const edge = Math.cbrt((x * y * z) / cells);
  const along = (length: number): number =>
    MULTIPLE * Math.max(1, Math.round(length / edge / MULTIPLE));
  const [nx, ny, nz] = [along(x), along(y), along(z)];
  return { nx, ny, nz, hx: x / nx, hy: y / ny, hz: z / nz };
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

function placedMeshes({ anodes, parts }: Bathful): readonly PlacedMesh[] {
  return [
    ...anodes.flatMap(({ form }, electrode) => {
      const mesh = anodeMesh(form);
      return mesh ? [{ electrode, mesh }] : [];
    }),
    ...parts.map(({ mesh, pose }, index) => ({
      electrode: anodes.length + index,
      mesh: moved(mesh, pose),
    })),
  ];
}

/** From the middle of the floor to the grid's corner. */
const fromCorner = (mesh: Mesh, { nx, ny, hx, hy }: Grid): Mesh =>
  moved(mesh, { rotation: NO_TURN, translation: [(nx * hx) / 2, (ny * hy) / 2, 0] });

function vesselCells({ vessel }: Bathful, grid: Grid): Uint8Array {
  const codes = new Uint8Array(grid.nx * grid.ny * grid.nz);
  let cell = 0;
  for (let k = 0; k < grid.nz; k++) {
    for (let j = 0; j < grid.ny; j++) {
      for (let i = 0; i < grid.nx; i++, cell++) {
        if (!isWithin(vessel, ...middleOf(grid, i, j, k))) codes[cell] = INSULATOR;
      }
    }
  }
  return codes;
}

/** Metal into the bath. Where the wall is in its way it sticks out of the tank, which the fit has ruled out. */
function putIn(
  codes: Uint8Array,
  { metal }: Voxels,
  electrode: number,
  electrodes: readonly Electrode[],
): void {
  metal.forEach((filled, cell) => {
    if (filled === 0) return;
    const there = codes[cell]!;
    if (there === INSULATOR) {
      throw new RangeError(`${electrodes[electrode]!.name} does not lie inside the tank`);
    }
    if (there !== BATH) {
      const other = electrodes[there - FIRST_ELECTRODE]!;
      throw new RangeError(
        `${electrodes[electrode]!.name} and ${other.name} touch: that is a short circuit`,
      );
    }
    codes[cell] = FIRST_ELECTRODE + electrode;
  });
}

type Found = {
  readonly cell: number;
  readonly side: number;
  readonly electrode: number;
  readonly gap: number;
};

function facesOf(
  bathful: Bathful,
  grid: Grid,
  codes: Uint8Array,
  voxels: ReadonlyMap<number, Voxels>,
): { readonly faces: Faces; readonly firstFace: Int32Array } {
  const found: Found[] = [];
  const firstFace = new Int32Array(codes.length).fill(-1);
  const counts = [grid.nx, grid.ny, grid.nz] as const;
  const steps = stepsOf(grid);
  const lengths = [grid.hx, grid.hy, grid.hz] as const;
  codes.forEach((code, cell) => {
    if (code !== BATH) return;
    for (let side = 0; side < 6; side++) {
      const axis = side >> 1;
      const here = Math.floor(cell / steps[axis]!) % counts[axis]!;
      const there = here + (side % 2 === 1 ? 1 : -1);
      if (there < 0 || there >= counts[axis]!) continue;
      const beside = codes[cell + (there - here) * steps[axis]!]!;
      if (beside < FIRST_ELECTRODE) continue;
      if (firstFace[cell] === -1) firstFace[cell] = found.length;
      const electrode = beside - FIRST_ELECTRODE;
      const place = placeOf(cell, grid);
      const cut = voxels.get(electrode);
      const gap = cut
        ? gapOf(cut, grid, place, side)
        : gapToStrip(bathful, grid, place, side, lengths[axis]!);
      found.push({ cell, side, electrode, gap });
    }
  });
  const faces = {
    count: found.length,
    cell: Uint32Array.from(found, ({ cell }) => cell),
    side: Uint8Array.from(found, ({ side }) => side),
    electrode: Uint8Array.from(found, ({ electrode }) => electrode),
    gap: Float64Array.from(found, ({ gap }) => gap),
    areaM2: new Float64Array(found.length),
  };
  stripAreas(bathful, grid, faces);
  return { faces, firstFace };
}

const placeOf = (cell: number, { nx, ny }: Grid): readonly [number, number, number] => [
  cell % nx,
  Math.floor(cell / nx) % ny,
  Math.floor(cell / (nx * ny)),
];

/** A strip is thin and stands at the wall itself, behind the middle of its cell. */
function gapToStrip(
  { vessel }: Bathful,
  grid: Grid,
  place: readonly [number, number, number],
  side: number,
  length: number,
): number {
  if (side > 3) return 0.5;
  const gap = toWall(vessel, middleOf(grid, ...place), side) / length;
  return gap > FURTHEST_FROM_WALL ? 0.5 : Math.max(0.5, gap);
}
