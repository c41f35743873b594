import { cross, dot, type Mesh, minus, type Point } from "./mesh";
import { BATH, type Grid } from "./scene";
import { type Corners, middleOfCorners, smallTriangles } from "./small-triangles";

/**
 * The true surface of the metal, cut into small triangles, in columns of equal length. Each wet one belongs to the
 * face of a bath cell that it looks at: faces get their true area from it, and the picture its colours.
 */
export type Patches = {
  readonly count: number;
  /** Index in `Scene.electrodes`. */
  readonly electrode: Uint8Array;
  /** Index in `Scene.faces`; −1 above the level, or where another solid covers it. */
  readonly face: Int32Array;
  readonly areaM2: Float64Array;
  /** Three corners, nine numbers, from the middle of the tank's floor, m. */
  readonly corners: Float32Array;
  /** Outwards, three numbers. */
  readonly normal: Float32Array;
};

/** What patches are tied to. */
export type Surroundings = {
  readonly grid: Grid;
  readonly cells: Uint8Array;
  /** First face of each cell, −1 where it has none, and the faces in the order of their cells. */
  readonly firstFace: Int32Array;
  readonly faceCell: Uint32Array;
  readonly faceSide: Uint8Array;
  readonly faceElectrode: Uint8Array;
};

/** Longest edge of a patch, in lengths of the shortest cell edge. */
const LONGEST_EDGE = 1.8;
/** Steps outwards along the normal to the bath cell that a patch looks at, in cells. */
const LOOKS = [0.3, 0.6, 0.9, 1.2, 1.5, 1.8] as const;
/** A face that looks away from the patch is none of its own. */
const LEAST_FACING = 0.05;
const OUTWARDS: readonly Point[] = [
  [-1, 0, 0],
  [1, 0, 0],
  [0, -1, 0],
  [0, 1, 0],
  [0, 0, -1],
  [0, 0, 1],
];

/** One electrode's mesh, already in its place from the middle of the tank's floor. */
export type PlacedMesh = { readonly electrode: number; readonly mesh: Mesh };

export function cutPatches(placed: readonly PlacedMesh[], around: Surroundings): Patches {
  const { grid } = around;
  const longest = LONGEST_EDGE * Math.min(grid.hx, grid.hy, grid.hz);
  const electrodes: number[] = [];
  const faces: number[] = [];
  const areas: number[] = [];
  const corners: number[] = [];
  const normals: number[] = [];
  for (const { electrode, mesh } of placed) {
    for (const small of smallTriangles(mesh, longest)) {
      const normal = unitNormal(small);
      if (!normal) continue;
      electrodes.push(electrode);
      areas.push(areaOf(small));
      for (const corner of small) corners.push(corner[0], corner[1], corner[2]);
      normals.push(normal[0], normal[1], normal[2]);
      faces.push(faceSeen(middleOfCorners(small), normal, electrode, around));
    }
  }
  return {
    count: areas.length,
    electrode: Uint8Array.from(electrodes),
    face: Int32Array.from(faces),
    areaM2: Float64Array.from(areas),
    corners: Float32Array.from(corners),
    normal: Float32Array.from(normals),
  };
}

const areaOf = ([a, b, c]: Corners): number => Math.hypot(...cross(minus(b, a), minus(c, a))) / 2;

function unitNormal([a, b, c]: Corners): Point | null {
  const normal = cross(minus(b, a), minus(c, a));
  const length = Math.hypot(...normal);
  return length > 0 ? [normal[0] / length, normal[1] / length, normal[2] / length] : null;
}

/**
 * The face that a patch looks at: in the first bath cell outwards that touches this electrode, the one it faces
 * most. In corners and at edges of the stair there may be none straight outwards: then among the cells about.
 */
function faceSeen(middle: Point, normal: Point, electrode: number, around: Surroundings): number {
  const { grid, cells } = around;
  const seen: (readonly [number, number, number])[] = [];
  for (const look of LOOKS) {
    const place = [
      Math.floor(middle[0] / grid.hx + grid.nx / 2 + look * normal[0]),
      Math.floor(middle[1] / grid.hy + grid.ny / 2 + look * normal[1]),
      Math.floor(middle[2] / grid.hz + look * normal[2]),
    ] as const;
    const cell = cellAt(place, grid);
    if (cell < 0) break;
    if (cells[cell] === BATH) {
      const { face } = facedMost(cell, normal, electrode, around);
      if (face >= 0) return face;
    }
    seen.push(place);
  }
  for (const place of seen) {
    const face = facedAbout(place, normal, electrode, around);
    if (face >= 0) return face;
  }
  return -1;
}

/** −1 outside the grid. */
function cellAt([i, j, k]: readonly [number, number, number], { nx, ny, nz }: Grid): number {
  const outside = i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz;
  return outside ? -1 : i + nx * (j + ny * k);
}

/** Among the cells round one, the face that a patch faces most. */
function facedAbout(
  [i, j, k]: readonly [number, number, number],
  normal: Point,
  electrode: number,
  around: Surroundings,
): number {
  let best = { face: -1, facing: 0 };
  for (let dk = -1; dk <= 1; dk++) {
    for (let dj = -1; dj <= 1; dj++) {
      for (let di = -1; di <= 1; di++) {
        const cell = cellAt([i + di, j + dj, k + dk], around.grid);
        if (cell < 0 || around.cells[cell] !== BATH) continue;
        const found = facedMost(cell, normal, electrode, around);
        if (found.face >= 0 && found.facing > best.facing) best = found;
      }
    }
  }
  return best.face;
}

function facedMost(
  cell: number,
  normal: Point,
  electrode: number,
  { firstFace, faceCell, faceSide, faceElectrode }: Surroundings,
): { readonly face: number; readonly facing: number } {
  let best = { face: -1, facing: LEAST_FACING };
  for (let face = firstFace[cell]!; face >= 0 && faceCell[face] === cell; face++) {
    if (faceElectrode[face] !== electrode) continue;
    const facing = -dot(OUTWARDS[faceSide[face]!]!, normal);
    if (facing > best.facing) best = { face, facing };
  }
  return best;
}
