import { checkRange } from "@/lib/units";
import type { Scene } from "./scene";

/** How fast an anode wears between two heights, over its mean. */
export type WearBand = { readonly fromM: number; readonly toM: number; readonly ratio: number };

/**
 * Wear of an anode by height: current density out of each band of it over that of the whole. By Faraday's law the
 * thickness that is lost goes with it.
 *
 * @param faceCurrentA as `Currents` has it
 * @param bands        from the floor to the level, 1 to 100; those without anode are left out
 * @example wearByHeight(scene, faceCurrentA, 0, 6) // [{ fromM: 0, toM: 0.06, ratio: 0.82 }, …]
 */
export function wearByHeight(
  { grid, faces }: Scene,
  faceCurrentA: Float64Array,
  electrode: number,
  bands: number,
): readonly WearBand[] {
  checkRange("bands", bands, 1, 100, "(count)");
  const current = new Float64Array(bands);
  const area = new Float64Array(bands);
  for (let face = 0; face < faces.count; face++) {
    if (faces.electrode[face] !== electrode) continue;
    const k = Math.floor(faces.cell[face]! / (grid.nx * grid.ny));
    const band = Math.floor((bands * (k + 0.5)) / grid.nz);
    current[band]! -= faceCurrentA[face]!;
    area[band]! += faces.areaM2[face]!;
  }
  const sum = (values: Float64Array): number => values.reduce((all, value) => all + value, 0);
  const mean = sum(current) / sum(area);
  const heightM = (grid.nz * grid.hz) / bands;
  return Array.from(area, (part, band) => ({
    ...{ fromM: band * heightM, toM: (band + 1) * heightM },
    ratio: current[band]! / part / mean,
  })).filter((_, band) => area[band]! > 0);
}
