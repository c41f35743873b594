import { anodeMesh, type Bathful } from "./bathful";
import { overlap } from "./contact";
import { boxOf, type Mesh, moved } from "./mesh";
import type { PlacedMesh } from "./surface";
import { clearance } from "./vessel";

/** What hangs in a tank may press into its wall and floor by so much, m: what a tape measure misses. */
const GIVE = 1e-4;

type Hung = PlacedMesh & { readonly name: string };

/**
 * The meshes of all that hangs free of the wall, in place, anodes first; electrodes are numbered so too. Looks at
 * the true solids, not at cells, whether they can hang so.
 *
 * @throws RangeError naming what reaches through the wall or does not reach into the bath, or which two pieces of
 * metal overlap
 */
export function hangAll(bathful: Bathful): readonly PlacedMesh[] {
  const { anodes, parts } = bathful;
  const hung: Hung[] = [];
  anodes.forEach(({ form, name }, electrode) => {
    const mesh = anodeMesh(form);
    if (mesh) hung.push({ electrode, mesh, name });
  });
  parts.forEach(({ mesh, pose, name }, index) => {
    hung.push({ electrode: anodes.length + index, mesh: moved(mesh, pose), name });
  });
  for (const { mesh, name } of hung) {
    if (boxOf(mesh).least[2] >= bathful.levelM) {
      throw new RangeError(`${name} does not reach into the bath`);
    }
    if (!liesWithin(bathful, mesh)) throw new RangeError(`${name} does not lie inside the tank`);
  }
  hung.forEach((one, index) => {
    const other = hung.slice(0, index).find(({ mesh }) => overlap(one.mesh, mesh));
    if (other) {
      throw new RangeError(`${one.name} and ${other.name} touch: that is a short circuit`);
    }
  });
  return hung;
}

/**
 * Whether all that is below the level lies within walls and floor. The inside of a tank has no hollows, so looking
 * at the vertices is enough, and at where edges go through the level.
 */
function liesWithin({ vessel, levelM }: Bathful, { positions, indices }: Mesh): boolean {
  const within = (x: number, y: number, z: number): boolean =>
    z >= -GIVE && clearance(vessel, x, y, z) >= -GIVE;
  for (let at = 0; at < positions.length; at += 3) {
    const z = positions[at + 2]!;
    if (z <= levelM && !within(positions[at]!, positions[at + 1]!, z)) return false;
  }
  for (let at = 0; at < indices.length; at++) {
    const from = 3 * indices[at]!;
    const to = 3 * indices[at % 3 === 2 ? at - 2 : at + 1]!;
    const [low, high] = [positions[from + 2]!, positions[to + 2]!];
    if (low > levelM === high > levelM) continue;
    const share = (levelM - low) / (high - low);
    const x = positions[from]! + share * (positions[to]! - positions[from]!);
    const y = positions[from + 1]! + share * (positions[to + 1]! - positions[from + 1]!);
    if (!within(x, y, levelM)) return false;
  }
  return true;
}
