/** Steps of a legend at most. */
const STEPS = 5;
/** Nobody at the bench tells 3.3 from 3.4 hours: the least ratio of two breaks. */
const LEAST_RATIO = 1.15;
/** Of the area, what the outer steps begin with: a few odd places do not stretch the legend. */
const EDGES = [0.1, 0.9] as const;

export type HourSteps = {
  /** h, rising; one fewer than there are steps. */
  readonly breaks: readonly number[];
  /** Of each step, the soonest clean first. */
  readonly words: readonly string[];
};

/**
 * Cuts hours into a few steps of equal ratio between what a tenth of the area stays under and what a tenth is over,
 * rounded to two digits as they are said.
 *
 * @param hours h of each place, above 0; Infinity where it never comes clean
 * @param areas of the same places, in any one unit
 * @example hourSteps([2, 4, 8], [1, 1, 1]).words.at(-1) // "over 5.7 h"
 */
export function hourSteps(hours: readonly number[], areas: readonly number[]): HourSteps {
  const places = hours
    .map((value, place) => ({ value, area: areas[place] ?? 0 }))
    .filter(({ value }) => Number.isFinite(value) && value > 0)
    .sort((one, other) => one.value - other.value);
  const [first, last] = EDGES.map((share) => quantile(places, share));
  if (first === undefined || last === undefined) return { breaks: [], words: ["not worked out"] };
  const breaks = Array.from({ length: STEPS - 1 }, (_, step) =>
    twoDigits(first * (last / first) ** (step / (STEPS - 2))),
  ).reduce<number[]>(
    (kept, value) => (value >= LEAST_RATIO * (kept.at(-1) ?? 0) ? [...kept, value] : kept),
    [],
  );
  return { breaks, words: wordsOf(breaks) };
}

/** Place in the legend of some hours. @example stepOf(3, [2, 4]) // 1 */
export function stepOf(hours: number, breaks: readonly number[]): number {
  const place = breaks.findIndex((value) => hours <= value);
  return place < 0 ? breaks.length : place;
}

type Place = { readonly value: number; readonly area: number };

function quantile(places: readonly Place[], share: number): number | undefined {
  const whole = places.reduce((sum, { area }) => sum + area, 0);
  let passed = 0;
  return places.find(({ area }) => {
    passed += area;
    return passed >= share * whole;
  })?.value;
}

const twoDigits = (value: number): number => Number(value.toPrecision(2));

function wordsOf(breaks: readonly number[]): readonly string[] {
  return [...breaks, null].map((value, place) => {
    const before = breaks[place - 1];
    if (before === undefined) return `clean within ${value ?? 0} h`;
    return value === null ? `over ${before} h` : `${before} to ${value} h`;
  });
}
