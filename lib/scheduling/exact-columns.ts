import type { TankNeeds } from "./board";
import type { Units } from "./units";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** Units together in one tank. */
export type Group = {
  readonly units: readonly number[];
  readonly tank: number;
  readonly needs: TankNeeds;
  readonly benchMinutes: number;
  readonly milliamperes: number;
};

/** A start, a pull or both at once of a group. */
export type Column = {
  readonly group: number;
  /** null: this is a pull alone */
  readonly startStep: number | null;
  /** null: the pull is chosen apart. For a start, the first pull that it allows is `readyStep`. */
  readonly pullStep: number | null;
  readonly readyStep: number;
  readonly loadSteps: number;
  readonly attendedSteps: number;
  /** the tank is free again; of a start alone, Infinity */
  readonly endStep: number;
  readonly doneMs: number;
};

/** By unit: not done after this, epoch ms; −Infinity leaves it out. */
export type Windows = readonly number[];

export type Columns = { readonly groups: readonly Group[]; readonly columns: readonly Column[] };

/**
 * Every way for units to go in: which with which, in which tank, when in, when out.
 *
 * Where hands may run short, starts and pulls are chosen apart, since a pull may have to wait for hands. Where they
 * cannot, each pull is the first one possible, and of the starts that lead to it only the last is looked at: an earlier one
 * would hold the tank longer for nothing.
 *
 * @param most columns; more are too many
 * @returns null when there are more
 */
export function columnsOf(units: Units, windows: Windows, most: number): Columns | null {
  const groups = groupsOf(units, windows, most);
  if (!groups) return null;
  const { hands, held } = units.board;
  const plenty = hands >= units.units.length + held.length;
  const columns: Column[] = [];
  for (const [index, group] of groups.entries()) {
    const lastDoneMs = Math.min(...group.units.map((unit) => windows[unit] ?? 0));
    const starts = startsOf(units, group, index, lastDoneMs);
    columns.push(...(plenty ? lastOfEachPull(starts) : apart(units, group, starts, lastDoneMs)));
    if (columns.length > most) return null;
  }
  return { groups, columns };
}

/** Any part of units that may share may share too: sets grow by one unit at a time. */
function groupsOf(units: Units, windows: Windows, most: number): Group[] | null {
  const usable = units.units
    .map(({ index }) => index)
    .filter((index) => (windows[index] ?? 0) > units.board.nowMs);
  const groups: Group[] = [];
  const open: number[][] = usable.map((unit) => [unit]);
  for (let set = open.pop(); set; set = open.pop()) {
    const before = groups.length;
    for (let tank = 0; tank < units.timeline.tankIds.length; tank += 1) {
      const needs = units.needsOf(set, tank);
      if (!needs) continue;
      const benchMinutes = units.benchMinutes(set);
      const milliamperes = Math.ceil(needs.currentA * 1000 - 1e-6);
      groups.push({ units: set, tank, needs, benchMinutes, milliamperes });
    }
    if (groups.length > most) return null;
    if (groups.length === before) continue;
    const last = set.at(-1) ?? 0;
    for (const unit of usable) if (unit > last) open.push([...set, unit]);
  }
  return groups;
}

function startsOf(units: Units, group: Group, index: number, lastDoneMs: number): Column[] {
  const { timeline } = units;
  const columns: Column[] = [];
  let from = Math.max(...group.units.map((unit) => units.unit(unit).releaseStep));
  for (;;) {
    const { tank, needs, benchMinutes } = group;
    const found = timeline.earliest(tank, needs, benchMinutes, from);
    if (!found) return columns;
    const doneMs = doneAt(units, found.pullStep, benchMinutes);
    if (doneMs > lastDoneMs) return columns;
    columns.push({ ...found, group: index, readyStep: found.pullStep, doneMs });
    from = found.startStep + 1;
  }
}

const doneAt = ({ board, timeline }: Units, pullStep: number, benchMinutes: number): number =>
  timeline.msOf(pullStep) + (board.pullMinutes + benchMinutes) * MS_PER_MINUTE;

function lastOfEachPull(starts: readonly Column[]): Column[] {
  return starts.filter(({ pullStep }, index) => starts[index + 1]?.pullStep !== pullStep);
}

/** Starts whose pull is open, and the pulls that any of them may have. */
function apart(
  units: Units,
  group: Group,
  starts: readonly Column[],
  lastDoneMs: number,
): Column[] {
  const [first] = starts;
  if (!first) return [];
  const { timeline, board } = units;
  const pulls: Column[] = [];
  const { group: index, loadSteps, attendedSteps } = first;
  let pullStep = first.readyStep;
  while (pullStep < timeline.steps) {
    const doneMs = doneAt(units, pullStep, group.benchMinutes);
    const endStep = timeline.stepAt(timeline.msOf(pullStep) + board.pullMinutes * MS_PER_MINUTE);
    if (doneMs > lastDoneMs || endStep > timeline.steps) break;
    const own = { group: index, startStep: null, pullStep, readyStep: pullStep };
    pulls.push({ ...own, loadSteps, attendedSteps, endStep, doneMs });
    pullStep = timeline.pullFrom(pullStep + 1, group.benchMinutes);
  }
  const open = starts.map((start) => ({
    ...start,
    pullStep: null,
    endStep: Number.POSITIVE_INFINITY,
  }));
  return [...open, ...pulls];
}

/** Hours between an instant and a due date, by a weight; 0 when in time. */
export const latenessH = (doneMs: number, dueMs: number, weight: number): number =>
  doneMs > dueMs ? (weight * (doneMs - dueMs)) / MS_PER_HOUR : 0;
