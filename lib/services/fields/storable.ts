/** Hours of a place that no current reaches, as JSON can keep them: a hundred years. */
const NEVER_H = 876_600;

/**
 * Findings as JSON can keep them: it has no infinity. What never comes clean takes a hundred years.
 *
 * @throws Error naming where there is no number at all
 * @example storable({ hours: Infinity }) // { hours: 876600 }
 */
export function storable<T>(value: T, place = "findings"): T {
  return kept(value, place) as T;
}

function kept(value: unknown, place: string): unknown {
  if (typeof value === "number") {
    if (Number.isNaN(value)) throw new Error(`${place} is not a number`);
    return Number.isFinite(value) ? value : Math.sign(value) * NEVER_H;
  }
  if (Array.isArray(value)) return value.map((one, index) => kept(one, `${place}[${index}]`));
  if (typeof value === "object" && value !== null) {
    return Object.fromEntries(
      Object.entries(value).map(([name, inner]) => [name, kept(inner, `${place}.${name}`)]),
    );
  }
  return value;
}
