import { checkRange } from "@/lib/units";

/** A bake that lets hydrogen out of strong steel. */
export type ReliefBake = {
  readonly leastC: number;
  readonly mostC: number;
  readonly hours: number;
  /** Hours after the bath within which it must start. */
  readonly startWithinHours: number;
};

/** Strength and hardness from which steel is baked: ASTM B849/B850 scope. */
export const BAKE_FROM_MPA = 1000;
export const BAKE_FROM_HRC = 31;

/** Start: within 4 h, better within 1 h (ISO 9588, from memory). */
const START_WITHIN_HOURS = 4;

/** Rows of the bake table: least tensile strength, the hardness beside it, and least hours at 190–220 °C. */
export const BAKE_ROWS: readonly {
  readonly fromMpa: number;
  readonly fromHrc: number;
  readonly hours: number;
}[] = [
  { fromMpa: 1701, fromHrc: 49, hours: 22 },
  { fromMpa: 1601, fromHrc: 47, hours: 20 },
  { fromMpa: 1501, fromHrc: 45, hours: 18 },
  { fromMpa: 1401, fromHrc: 43, hours: 16 },
  { fromMpa: 1301, fromHrc: 39, hours: 14 },
  { fromMpa: 1201, fromHrc: 36, hours: 12 },
  { fromMpa: 1101, fromHrc: 33, hours: 10 },
  { fromMpa: 1000, fromHrc: 31, hours: 8 },
];
const STRONGEST_MPA = 1800;
const HARDEST_HRC = 51;

/**
 * The bake for steel of a strength or hardness, by the table of ASTM B850-98 (guidance; steel above it is not
 * in the table and is refused). The stronger of the two figures counts. Below 1000 MPa and 31 HRC: none.
 *
 * @param tensileMpa  MPa, or null when not known; 0 to 2500
 * @param hardnessHrc Rockwell C, or null; 0 to 70
 * @returns the bake, null when none is needed, or "too strong" above the table
 * @example reliefBake(1250, null) // 12 h at 190 to 220 °C
 */
export function reliefBake(
  tensileMpa: number | null,
  hardnessHrc: number | null,
): ReliefBake | null | "too strong" {
  if (tensileMpa !== null) checkRange("tensile strength", tensileMpa, 0, 2500, "MPa");
  if (hardnessHrc !== null) checkRange("hardness", hardnessHrc, 0, 70, "HRC");
  if ((tensileMpa ?? 0) > STRONGEST_MPA || (hardnessHrc ?? 0) > HARDEST_HRC) return "too strong";
  const row = BAKE_ROWS.find(
    ({ fromMpa, fromHrc }) => (tensileMpa ?? 0) >= fromMpa || (hardnessHrc ?? 0) >= fromHrc,
  );
  if (!row) return null;
  return { leastC: 190, mostC: 220, hours: row.hours, startWithinHours: START_WITHIN_HOURS };
}
