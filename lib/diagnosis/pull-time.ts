import { checkNonNegative, checkPositive } from "@/lib/units";
import type { RunReading } from "./expectation";

const MS_PER_HOUR = 3_600_000;

/** When a run will have had its charge. */
export type PullTime =
  | { readonly kind: "due" } // the target is reached
  | { readonly kind: "at"; readonly atMs: number; readonly hoursLeft: number }
  | { readonly kind: "unknown" }; // no current flows

/**
 * When to pull, if the current stays as it is now.
 *
 * @param run charge so far and wanted in A·h, the latest current in A and its instant in epoch ms
 * @throws RangeError if a charge or the current is negative, or the target not above 0
 * @example pullTime({ chargeSoFarAh: 4, targetChargeAh: 10, currentA: 3, atMs: 0 }) // at 7 200 000 ms, 2 h left
 */
export function pullTime(run: {
  readonly chargeSoFarAh: number;
  readonly targetChargeAh: number;
  readonly currentA: number;
  readonly atMs: number;
}): PullTime {
  checkNonNegative("charge so far", run.chargeSoFarAh, "A·h");
  checkPositive("target charge", run.targetChargeAh, "A·h");
  checkNonNegative("current", run.currentA, "A");
  const left = run.targetChargeAh - run.chargeSoFarAh;
  if (left <= 0) return { kind: "due" };
  if (run.currentA === 0) return { kind: "unknown" };
  const hoursLeft = left / run.currentA;
  return { kind: "at", atMs: run.atMs + hoursLeft * MS_PER_HOUR, hoursLeft };
}

/**
 * Charge and energy a run has passed: trapezia between readings. The first reading's current is taken to have
 * flowed since loading, and the last one's until `untilMs`.
 *
 * @param readings in any order; those outside the span are left out
 * @returns A·h, and kW·h at the supply's output; both 0 without readings
 * @throws RangeError if `untilMs` is before `loadedMs`
 * @example passedSoFar([{ atMs: 0, currentA: 2, voltsV: 12, temperatureC: null, levelMm: null }], 0, 3_600_000)
 *   // { chargeAh: 2, energyKwh: 0.024 }
 */
export function passedSoFar(
  readings: readonly RunReading[],
  loadedMs: number,
  untilMs: number,
): { readonly chargeAh: number; readonly energyKwh: number } {
  if (!(untilMs >= loadedMs)) {
    throw new RangeError(`until must not be before loading (${loadedMs} ms), got ${untilMs}`);
  }
  const inside = readings
    .filter(({ atMs }) => atMs >= loadedMs && atMs <= untilMs)
    .sort((a, b) => a.atMs - b.atMs);
  const first = inside[0];
  const last = inside.at(-1);
  if (!first || !last) return { chargeAh: 0, energyKwh: 0 };
  const points = [{ ...first, atMs: loadedMs }, ...inside, { ...last, atMs: untilMs }];
  let chargeAh = 0;
  let energyKwh = 0;
  points.slice(1).forEach((point, index) => {
    const before = points[index] ?? point;
    const hours = (point.atMs - before.atMs) / MS_PER_HOUR;
    chargeAh += (hours * (before.currentA + point.currentA)) / 2;
    energyKwh +=
      (hours * (before.currentA * before.voltsV + point.currentA * point.voltsV)) / 2 / 1000;
  });
  return { chargeAh, energyKwh };
}
