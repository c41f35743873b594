import type { Arrangement, Placed, Unit } from "./arrangement";
import type { Chance } from "./simulate-chance";

const MS_PER_HOUR = 3_600_000;
/** h of lateness that an hour of the tank, or of an earlier end, is worth: only breaks ties. */
const WORTH_OF_END = 1e-3;
const WORTH_OF_TANK = 1e-4;
/** A search that always takes the best place finds the same again: now and then one is passed over. */
const PASSED_OVER = 0.04;
/** Loads looked at to join, of those there are. */
const JOINS_TRIED = 4;

/** In which order units are put back: by number, the least first. */
export type Rule = (unit: Unit, chance: Chance) => number;

/** Dispatch rules of the textbooks (Pinedo, Scheduling, chapter 14; from memory), each a number of a unit. */
export function dispatchRules(arrangement: Arrangement): readonly Rule[] {
  const { board } = arrangement;
  const hours = (unit: Unit): number => Math.min(...unit.options.map(({ needs }) => needs.hours));
  const due = (unit: Unit): number =>
    Math.min(...unit.jobs.map((job) => board.jobs[job]?.dueMs ?? board.horizonMs));
  const weight = (unit: Unit): number =>
    Math.max(...unit.jobs.map((job) => board.jobs[job]?.weight ?? 1));
  const slack = (unit: Unit): number =>
    Math.max(0, (due(unit) - board.nowMs) / MS_PER_HOUR - hours(unit));
  const meanHours =
    board.dips.reduce(
      (sum, { tanks }) => sum + Math.min(...[...tanks.values()].map((n) => n.hours)),
      0,
    ) / Math.max(1, board.dips.length);
  return [
    due,
    // Smith: most weight for an hour first.
    (unit) => hours(unit) / weight(unit),
    // Apparent tardiness cost: Smith's ratio, discounted by what time is left.
    (unit) => (-weight(unit) / hours(unit)) * Math.exp(-slack(unit) / (2 * Math.max(1, meanHours))),
    // Critical ratio: time left over time needed.
    (unit) => (due(unit) - board.nowMs) / hours(unit) / weight(unit),
    // Longest first.
    (unit) => -hours(unit),
    (unit) => unit.releaseStep,
    (_, chance) => chance.uniform(),
  ];
}

/**
 * Puts every waiting unit in the place that costs least now, in the order of a rule.
 *
 * @param greed 0 takes the best place always; up to 1 passes more of them over
 */
export function putBack(arrangement: Arrangement, rule: Rule, chance: Chance, greed = 1): void {
  const order = [...arrangement.waiting]
    .map((unit) => ({ unit, at: rule(unit, chance) }))
    .sort((a, b) => a.at - b.at || (a.unit.id < b.unit.id ? -1 : 1))
    .map(({ unit }) => unit);
  const done = Float64Array.from(arrangement.jobsDone());
  let left = order;
  // A unit whose other end is not in yet comes again, once that is.
  for (let round = 0; round < 3 && left.length > 0; round += 1) {
    left = left.filter((unit) => !putOne(arrangement, unit, { done, chance, greed }));
  }
}

type Putting = { readonly done: Float64Array; readonly chance: Chance; readonly greed: number };

function putOne(arrangement: Arrangement, unit: Unit, putting: Putting): boolean {
  const alone = bestAlone(arrangement, unit, putting);
  const join = bestJoin(arrangement, unit, putting, alone?.value ?? Number.POSITIVE_INFINITY);
  const placed = join?.placed ?? alone?.placed;
  if (!placed) return false;
  if (join) arrangement.take(join.instead);
  arrangement.put(placed);
  arrangement.leave(unit);
  for (const job of placed.unit.jobs) {
    putting.done[job] = Math.max(putting.done[job] ?? 0, placed.doneMs);
  }
  return true;
}

function bestAlone(
  arrangement: Arrangement,
  unit: Unit,
  { done, chance, greed }: Putting,
): { readonly placed: Placed; readonly value: number } | null {
  let best: { readonly placed: Placed; readonly value: number } | null = null;
  for (const option of unit.options) {
    if (greed > 0 && chance.uniform() < PASSED_OVER * greed) continue;
    const placed = arrangement.earliest(unit, option);
    const value = placed ? valueOf(arrangement, placed, done) : Number.POSITIVE_INFINITY;
    if (placed && value < (best?.value ?? Number.POSITIVE_INFINITY)) best = { placed, value };
  }
  return best;
}

/** What a place adds: lateness of its jobs first, then an early end and little use of the tank. */
function valueOf(arrangement: Arrangement, placed: Placed, done: Float64Array): number {
  const { board } = arrangement;
  let value = 0;
  for (const job of placed.unit.jobs) {
    const before = done[job] ?? 0;
    value +=
      arrangement.lateness(job, Math.max(before, placed.doneMs)) -
      arrangement.lateness(job, before);
  }
  const { startStep, endStep } = placed.stretch;
  const tankH = ((endStep - startStep) * board.stepMs) / MS_PER_HOUR;
  const endH = (placed.doneMs - board.nowMs) / MS_PER_HOUR;
  return value + WORTH_OF_END * endH + WORTH_OF_TANK * tankH;
}

type Join = { readonly instead: Placed; readonly placed: Placed };

/** A placed load that the unit joins with less harm than a place of its own does; null for none. */
function bestJoin(
  arrangement: Arrangement,
  unit: Unit,
  { done, chance, greed }: Putting,
  alone: number,
): Join | null {
  if (unit.booked || unit.after.length > 0 || arrangement.placed.size === 0) return null;
  const others = [...arrangement.placed];
  let best: Join | null = null;
  let bestValue = alone;
  const tries = greed > 0 ? JOINS_TRIED : others.length;
  for (let tried = 0; tried < tries; tried += 1) {
    const instead = others[greed > 0 ? Math.floor(chance.uniform() * others.length) : tried];
    if (!instead) continue;
    const found = joinAt(arrangement, unit, instead);
    if (!found) continue;
    const value = valueOf(arrangement, found, done) - WORTH_OF_TANK;
    if (value < bestValue) [best, bestValue] = [{ instead, placed: found }, value];
  }
  return best;
}

function joinAt(arrangement: Arrangement, unit: Unit, instead: Placed): Placed | null {
  const { tank } = instead.stretch;
  if (!unit.options.some((option) => option.tank === tank)) return null;
  const together = arrangement.joined(instead.unit, unit.dips);
  const option = together?.options.find((one) => one.tank === tank);
  if (!together || !option) return null;
  const mark = arrangement.mark();
  arrangement.take(instead);
  const found = arrangement.earliest(together, option, instead.stretch.startStep);
  arrangement.rollback(mark);
  // Whatever waits for what is in it must not have to wait longer.
  if (found && found.stretch.endStep > instead.stretch.endStep && isAwaited(arrangement, instead)) {
    return null;
  }
  return found;
}

const isAwaited = (arrangement: Arrangement, { unit }: Placed): boolean =>
  [...arrangement.placed].some((other) => other.unit.after.some((dip) => unit.dips.includes(dip)));
