/** Argument checks shared by the calculations: each names the value, its range and its unit. */

/** To six digits, or to all of them where six would make a value look like the bound it misses. */
function shown(value: number, ...bounds: readonly number[]): string {
  const short = String(Number(value.toPrecision(6)));
  const misleads = bounds.some((bound) => bound !== value && short === shown(bound));
  return misleads ? String(value) : short;
}

/**
 * @throws RangeError unless `value` is finite and within [`least`, `most`]
 * @example checkRange("temperature", 95, 0, 60, "°C")
 *   // RangeError: temperature must be from 0 to 60 °C, got 95
 */
export function checkRange(
  name: string,
  value: number,
  least: number,
  most: number,
  unit: string,
): void {
  if (!(Number.isFinite(value) && value >= least && value <= most)) {
    throw new RangeError(
      `${name} must be from ${shown(least)} to ${shown(most)} ${unit}, got ${shown(value, least, most)}`,
    );
  }
}

/** @throws RangeError unless `value` is finite and above zero */
export function checkPositive(name: string, value: number, unit: string): void {
  if (!(Number.isFinite(value) && value > 0)) {
    throw new RangeError(`${name} must be finite and above 0 ${unit}, got ${shown(value)}`);
  }
}

/** @throws RangeError unless `value` is finite and not negative */
export function checkNonNegative(name: string, value: number, unit: string): void {
  if (!(Number.isFinite(value) && value >= 0)) {
    throw new RangeError(`${name} must be finite and not negative (${unit}), got ${shown(value)}`);
  }
}
