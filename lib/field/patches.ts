import { type Faces, type Grid, SIDES } from "./scene";
import type { SmallTriangles } from "./surface";

/**
 * The true surface of the metal, cut into small triangles, in columns of equal length. Each wet one belongs to the
 * face of a bath cell that it looks at most.
 */
export type Patches = {
  readonly count: number;
  /** Index in `Scene.electrodes`. */
  readonly electrode: Uint8Array;
  /** Index in `Scene.faces`; −1 above the level, or where nothing is left of the bath in front of it. */
  readonly face: Int32Array;
  readonly areaM2: Float64Array;
  /** Three corners, nine numbers, from the middle of the tank's floor, m. */
  readonly corners: Float32Array;
  /** Outwards, three numbers. */
  readonly normal: Float32Array;
};

/** Of each face which way it looks from the metal, and where it meets the surface, in lengths of a cell. */
type FacePlaces = { readonly outwards: Float64Array; readonly places: Float64Array };

/** How far a patch's area spreads over faces, in lengths of a cell, and how far it looks when it finds none. */
const REACHES = [
  { cells: 1, reach: 1.75 },
  { cells: 3, reach: 3.5 },
] as const;
/** Faces across the patch, as at the rim of a sheet, get a little of it; those that look away get none. */
const ACROSS = 0.05;
const LOOKS_AWAY = -0.3;

/**
 * Ties the true surface to the faces, and gives these its area.
 *
 * The area of each patch goes to the faces of its own electrode about it, the nearer the more, and the more the
 * more they look its way. The shares add up to 1, so no area is lost. Those of a slope go to the faces of its
 * stair as the slope's current does, and the two sides of a wall thinner than a cell each keep their own, since
 * faces that look away get nothing. A patch in front of which no cell is left of the bath, as in a crack finer
 * than a cell or on the floor, is shut off and counts for nothing.
 *
 * @param areaM2 of each face; the patches' is added to it
 */
export function tiePatches(
  surface: SmallTriangles,
  grid: Grid,
  firstFace: Int32Array,
  faces: Faces,
): Patches {
  const { count, electrode, areaM2, corners, normal } = surface;
  const tie = new Tie(surface, grid, firstFace, faces);
  const face = new Int32Array(count).fill(-1);
  for (let patch = 0; patch < count; patch++) {
    if (surface.wet[patch] === 1) face[patch] = tie.spread(patch);
  }
  return { count, electrode, face, areaM2, corners, normal };
}

/** Lists that are used again for every patch. */
class Tie {
  private readonly near: number[] = [];
  private readonly shares: number[] = [];
  private readonly faced: FacePlaces;
  private readonly sideArea: readonly number[];

  constructor(
    private readonly surface: SmallTriangles,
    private readonly grid: Grid,
    private readonly firstFace: Int32Array,
    private readonly faces: Faces,
  ) {
    const { hx, hy, hz } = grid;
    this.faced = facePlaces(grid, faces);
    this.sideArea = [hy * hz, hy * hz, hx * hz, hx * hz, hx * hy, hx * hy];
  }

  /** Gives a patch's area to the faces about it. @returns the one that gets most, or −1 */
  spread(patch: number): number {
    const { near, shares, faces, surface } = this;
    for (const { cells, reach } of REACHES) {
      this.look(patch, cells, reach);
      if (near.length > 0) break;
    }
    let [sum, most, best] = [0, 0, -1];
    for (let at = 0; at < near.length; at++) {
      sum += shares[at]!;
      if (shares[at]! > most) [most, best] = [shares[at]!, near[at]!];
    }
    for (let at = 0; at < near.length; at++) {
      faces.areaM2[near[at]!]! += (surface.areaM2[patch]! * shares[at]!) / sum;
    }
    return best;
  }

  /** Lists the faces about the bath in front of a patch, with what weight each has. */
  private look(patch: number, cells: number, reach: number): void {
    const { nx, ny, nz, hx, hy, hz } = this.grid;
    const { middle, normal } = this.surface;
    this.near.length = 0;
    this.shares.length = 0;
    const x = middle[3 * patch]! / hx + nx / 2;
    const y = middle[3 * patch + 1]! / hy + ny / 2;
    const z = middle[3 * patch + 2]! / hz;
    // Half a cell outwards the bath begins.
    const i = Math.floor(x + normal[3 * patch]! / 2);
    const j = Math.floor(y + normal[3 * patch + 1]! / 2);
    const k = Math.floor(z + normal[3 * patch + 2]! / 2);
    for (let w = Math.max(0, k - cells); w <= Math.min(nz - 1, k + cells); w++) {
      for (let v = Math.max(0, j - cells); v <= Math.min(ny - 1, j + cells); v++) {
        const row = nx * (v + ny * w);
        for (let u = Math.max(0, i - cells); u <= Math.min(nx - 1, i + cells); u++) {
          const cell = row + u;
          if (this.firstFace[cell]! >= 0) this.weigh(patch, cell, x, y, z, reach);
        }
      }
    }
  }

  private weigh(patch: number, cell: number, x: number, y: number, z: number, reach: number): void {
    const { faces, surface, faced } = this;
    const { outwards, places } = faced;
    for (let face = this.firstFace[cell]!; faces.cell[face] === cell; face++) {
      if (faces.electrode[face] !== surface.electrode[patch]) continue;
      const side = faces.side[face]!;
      const facing = outwards[side]! * surface.normal[3 * patch + (side >> 1)]!;
      if (facing < LOOKS_AWAY) continue;
      const away =
        ((places[3 * face]! - x) ** 2 +
          (places[3 * face + 1]! - y) ** 2 +
          (places[3 * face + 2]! - z) ** 2) /
        reach ** 2;
      if (away >= 1) continue;
      this.near.push(face);
      this.shares.push((Math.max(0, facing) + ACROSS) * (1 - away) ** 2 * this.sideArea[side]!);
    }
  }
}

function facePlaces({ nx, ny }: Grid, { count, cell, side, gap }: Faces): FacePlaces {
  const outwards = Float64Array.from(SIDES, (_, at) => (at % 2 === 1 ? -1 : 1));
  const places = new Float64Array(3 * count);
  for (let face = 0; face < count; face++) {
    const at = cell[face]!;
    places[3 * face] = (at % nx) + 0.5;
    places[3 * face + 1] = (Math.floor(at / nx) % ny) + 0.5;
    places[3 * face + 2] = Math.floor(at / (nx * ny)) + 0.5;
    const axis = side[face]! >> 1;
    places[3 * face + axis]! -= gap[face]! * outwards[side[face]!]!;
  }
  return { outwards, places };
}
