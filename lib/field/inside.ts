import type { BuiltScene } from "./build-scene";
import { cross, type Point } from "./mesh";
import { FIRST_ELECTRODE } from "./scene";

/** Directions looked in from each patch, spread by the cosine law round its normal: rings of (sine, count). */
const RINGS = [
  [0.35, 4],
  [0.7, 6],
  [0.92, 6],
] as const;
/** Step of a look, in cells. */
const STEP = 0.7;
/** From this share of looks that end on the same part, a patch is inside. */
const INSIDE_FROM = 0.5;

/**
 * Which patches are inside their part: those from which one sees more of the part itself than of the bath, seen by
 * the cosine law, as light and as the current of a far anode would come in.
 *
 * @returns 1 for each patch that is inside, in the order of `scene.patches`
 */
export function insidePatches(scene: BuiltScene): Uint8Array {
  const { patches } = scene;
  const inside = new Uint8Array(patches.count);
  const looks = RINGS.reduce((sum, [, count]) => sum + count, 0);
  const enough = INSIDE_FROM * looks;
  const bounds = electrodeBounds(scene);
  let last: Point = [0, 0, 0];
  let directions: readonly Point[] = [];
  for (let patch = 0; patch < patches.count; patch++) {
    if (patches.face[patch]! < 0) continue;
    const normal = vector(patches.normal, patch);
    const from = middleOfCell(scene, patches.face[patch]!);
    const electrode = patches.electrode[patch]!;
    // Patches of a flat side follow one another.
    if (normal.some((value, axis) => value !== last[axis])) directions = directionsAbout(normal);
    last = normal;
    let [blocked, left] = [0, looks];
    for (const direction of directions) {
      if (meets(scene, from, direction, electrode, bounds[electrode]!)) blocked++;
      left--;
      // The rest cannot change the answer.
      if (blocked >= enough || blocked + left < enough) break;
    }
    if (blocked >= enough) inside[patch] = 1;
  }
  return inside;
}

const vector = (columns: Float32Array, patch: number): Point => [
  columns[3 * patch]!,
  columns[3 * patch + 1]!,
  columns[3 * patch + 2]!,
];

/** Middle of the bath cell that a face belongs to: from there the bath is seen, whatever cell the patch lies in. */
function middleOfCell({ grid, faces }: BuiltScene, face: number): Point {
  const { nx, ny, hx, hy, hz } = grid;
  const cell = faces.cell[face]!;
  const [i, j, k] = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
  return [(i + 0.5 - nx / 2) * hx, (j + 0.5 - ny / 2) * hy, (k + 0.5) * hz];
}

function directionsAbout(normal: Point): Point[] {
  const aside: Point = Math.abs(normal[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const across = unit(cross(normal, aside));
  const along = cross(normal, across);
  return RINGS.flatMap(([sine, count], ring) => {
    const cosine = Math.sqrt(1 - sine * sine);
    return Array.from({ length: count }, (_, step): Point => {
      // Each ring begins elsewhere, so that no wall lies along all of them.
      const angle = (2 * Math.PI * (step + 0.37 * ring + 0.11)) / count;
      const [u, v] = [sine * Math.cos(angle), sine * Math.sin(angle)];
      return [0, 1, 2].map(
        (axis) => cosine * normal[axis]! + u * across[axis]! + v * along[axis]!,
      ) as unknown as Point;
    });
  });
}

function unit(value: Point): Point {
  const length = Math.hypot(...value);
  return [value[0] / length, value[1] / length, value[2] / length];
}

/** First and last cell of each electrode along each axis. */
type Bounds = { readonly least: number[]; readonly most: number[] };

function electrodeBounds({ grid, cells, electrodes }: BuiltScene): readonly Bounds[] {
  const { nx, ny } = grid;
  const bounds = electrodes.map(() => ({
    least: [Infinity, Infinity, Infinity],
    most: [-1, -1, -1],
  }));
  for (let cell = 0; cell < cells.length; cell++) {
    const own = bounds[cells[cell]! - FIRST_ELECTRODE];
    if (!own) continue;
    const at = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    for (let axis = 0; axis < 3; axis++) {
      if (at[axis]! < own.least[axis]!) own.least[axis] = at[axis]!;
      if (at[axis]! > own.most[axis]!) own.most[axis] = at[axis]!;
    }
  }
  return bounds;
}

/** Whether a look from a bath cell ends on its own part before it has left the box round that. */
function meets(
  { grid, cells }: BuiltScene,
  from: Point,
  to: Point,
  electrode: number,
  { least, most }: Bounds,
): boolean {
  const { nx, ny, hx, hy, hz } = grid;
  const shortest = Math.min(hx, hy, hz);
  const own = FIRST_ELECTRODE + electrode;
  for (let step = 1; ; step++) {
    const way = step * STEP * shortest;
    const i = Math.floor((from[0] + way * to[0]) / hx + nx / 2);
    const j = Math.floor((from[1] + way * to[1]) / hy + ny / 2);
    const k = Math.floor((from[2] + way * to[2]) / hz);
    if (leaves(i, to[0], least[0]!, most[0]!)) return false;
    if (leaves(j, to[1], least[1]!, most[1]!)) return false;
    if (leaves(k, to[2], least[2]!, most[2]!)) return false;
    if (cells[i + nx * (j + ny * k)] === own) return true;
  }
}

/** Past the end that it goes towards; a cell beside the box may still come into it. */
function leaves(at: number, towards: number, least: number, most: number): boolean {
  return towards > 0 ? at > most : towards < 0 ? at < least : at < least || at > most;
}
