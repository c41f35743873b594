import { checkRange } from "@/lib/units";
import type { BuiltScene } from "./build-scene";
import { insidePatches } from "./inside";
import { dot, type Point } from "./mesh";
import { SIDES } from "./scene";

/** How the current spreads over one side of a part. */
export type SideSpread = {
  readonly areaM2: number;
  /** Current density over the part's mean at 0, 5, … 100 % of this side's area, rising; 21 values. */
  readonly quantiles: readonly number[];
};

/** How the current spreads over a part: plain data. */
export type PartDistribution = {
  readonly id: string;
  readonly wetAreaM2: number;
  /** Of the current into all parts. */
  readonly currentShare: number;
  readonly outside: SideSpread;
  /** null where nothing of it is inside */
  readonly inside: SideSpread | null;
  /** Of the wet area, 0 to 1. */
  readonly insideShare: number;
  /** Share of the area with less than half the median density. */
  readonly lagShare: number;
};

/** A distribution with what it was summed from, patch by patch. */
export type PatchDensities = {
  /** Current density over the mean of the patch's part; NaN where dry, and on anodes. */
  readonly ratio: Float32Array;
  readonly inside: Uint8Array;
};

const QUANTILES = 20;
/** Faces count for a patch when they look about the same way. */
const ALIKE = 0.5;

/**
 * Current density of every patch over the mean of its part.
 *
 * The current of the faces about a patch that look its way, over their area: a stair puts the current of a slope on
 * some faces and its area on others, and only together are they right.
 *
 * @param faceCurrentA as `Potential` has it
 * @param inside       as `insidePatches` has it; worked out when left out
 */
export function patchDensities(
  scene: BuiltScene,
  faceCurrentA: Float64Array,
  inside: Uint8Array = insidePatches(scene),
): PatchDensities {
  const { patches, electrodes } = scene;
  const ratio = new Float32Array(patches.count).fill(Number.NaN);
  const flow = new Float64Array(electrodes.length);
  const area = new Float64Array(electrodes.length);
  for (let patch = 0; patch < patches.count; patch++) {
    const electrode = patches.electrode[patch]!;
    if (patches.face[patch]! < 0 || electrodes[electrode]!.kind !== "PART") continue;
    const density = densityAbout(scene, faceCurrentA, patch);
    ratio[patch] = density;
    flow[electrode] = flow[electrode]! + density * patches.areaM2[patch]!;
    area[electrode] = area[electrode]! + patches.areaM2[patch]!;
  }
  for (let patch = 0; patch < patches.count; patch++) {
    const electrode = patches.electrode[patch]!;
    ratio[patch] = ratio[patch]! / (flow[electrode]! / area[electrode]!);
  }
  return { ratio, inside };
}

function densityAbout(scene: BuiltScene, faceCurrentA: Float64Array, patch: number): number {
  const { grid, faces, patches, firstFace } = scene;
  const { nx, ny, nz } = grid;
  const normal: Point = [
    patches.normal[3 * patch]!,
    patches.normal[3 * patch + 1]!,
    patches.normal[3 * patch + 2]!,
  ];
  const electrode = patches.electrode[patch]!;
  const cell = faces.cell[patches.face[patch]!]!;
  const [i, j, k] = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
  let current = 0;
  let area = 0;
  for (let z = Math.max(0, k - 1); z <= Math.min(nz - 1, k + 1); z++) {
    for (let y = Math.max(0, j - 1); y <= Math.min(ny - 1, j + 1); y++) {
      for (let x = Math.max(0, i - 1); x <= Math.min(nx - 1, i + 1); x++) {
        const beside = x + nx * (y + ny * z);
        for (let face = firstFace[beside]!; face >= 0 && faces.cell[face] === beside; face++) {
          if (faces.electrode[face] !== electrode) continue;
          const facing = -dot(OUTWARDS[faces.side[face]!]!, normal);
          if (facing < ALIKE && face !== patches.face[patch]) continue;
          current += faceCurrentA[face]!;
          area += faces.areaM2[face]!;
        }
      }
    }
  }
  return area > 0 ? Math.max(0, current) / area : 0;
}

const OUTWARDS: readonly Point[] = SIDES.map((_, side) => {
  const sign = side % 2 === 1 ? 1 : -1;
  const axis = side >> 1;
  return [axis === 0 ? sign : 0, axis === 1 ? sign : 0, axis === 2 ? sign : 0];
});

/** The spread over each part, in the order of the scene's parts. */
export function distributions(
  scene: BuiltScene,
  { ratio, inside }: PatchDensities,
  electrodeCurrentA: readonly number[],
): readonly PartDistribution[] {
  const { electrodes, patches } = scene;
  const all = electrodes.reduce(
    (sum, { kind }, index) => sum + (kind === "PART" ? electrodeCurrentA[index]! : 0),
    0,
  );
  return electrodes.flatMap(({ kind, id }, electrode) => {
    if (kind !== "PART") return [];
    const of = (side: (patch: number) => boolean): Weighed[] => {
      const found: Weighed[] = [];
      for (let patch = 0; patch < patches.count; patch++) {
        if (patches.electrode[patch] !== electrode || patches.face[patch]! < 0) continue;
        if (side(patch)) found.push({ value: ratio[patch]!, areaM2: patches.areaM2[patch]! });
      }
      return found.sort((one, other) => one.value - other.value);
    };
    const outside = spreadOf(of((patch) => inside[patch] === 0));
    const within = spreadOf(of((patch) => inside[patch] === 1));
    const whole = of(() => true);
    const wetAreaM2 = areaOf(whole);
    const median = quantileOf(whole, 0.5);
    const lagging = areaOf(whole.filter(({ value }) => value < median / 2));
    return {
      ...{ id, wetAreaM2, outside },
      currentShare: electrodeCurrentA[electrode]! / all,
      inside: within.areaM2 > 0 ? within : null,
      insideShare: within.areaM2 / wetAreaM2,
      lagShare: lagging / wetAreaM2,
    };
  });
}

type Weighed = { readonly value: number; readonly areaM2: number };

const areaOf = (all: readonly Weighed[]): number =>
  all.reduce((sum, { areaM2 }) => sum + areaM2, 0);

function spreadOf(rising: readonly Weighed[]): SideSpread {
  return {
    areaM2: areaOf(rising),
    quantiles: Array.from({ length: QUANTILES + 1 }, (_, step) =>
      quantileOf(rising, step / QUANTILES),
    ),
  };
}

/** The value below which lies so much of the area; 0 of nothing. */
function quantileOf(rising: readonly Weighed[], share: number): number {
  const wanted = share * areaOf(rising);
  let below = 0;
  for (const { value, areaM2 } of rising) {
    below += areaM2;
    if (below >= wanted) return value;
  }
  return rising.at(-1)?.value ?? 0;
}

/**
 * Density over the mean that all but the slowest tenth of a side exceeds: a side is done when that tenth is.
 *
 * @example slowTenth({ areaM2: 0.1, quantiles }) // 0.6
 */
export function slowTenth({ quantiles }: SideSpread): number {
  checkRange("quantiles of a side", quantiles.length, QUANTILES + 1, QUANTILES + 1, "(count)");
  return quantiles[QUANTILES / 10]!;
}
