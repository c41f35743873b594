import type { Span } from "./calendar";
import { type IsoWeek, isoWeeksBetween } from "./week";

const MS_PER_HOUR = 3_600_000;

/** A load that holds a tank, epoch ms. */
export type TankRun = Span & { readonly tankId: string };

/** Hours of one tank in one ISO week. `usedHours + freeHours` is all there are. */
export type TankWeek = IsoWeek & {
  readonly tankId: string;
  /** the Monday it begins, YYYY-MM-DD */
  readonly monday: string;
  readonly usedHours: number;
  readonly freeHours: number;
};

/**
 * Hours used and free, by tank and ISO week.
 *
 * A tank works round the clock when `openings` is left out, since treatment runs on overnight; with the shop's
 * openings only the hours when somebody is there count, both as used and as free.
 *
 * @param runs what held the tanks; parts of a run outside `from` to `until` do not count
 * @returns for each tank, each ISO week that the span reaches into, in order; the hours of a week at either end
 *          are cut to the span
 * @example tankCapacity({ tankIds: ["long"], runs: [], fromMs, untilMs, timeZone: "Europe/Berlin" })[0].freeHours // 168
 */
export function tankCapacity(input: {
  readonly tankIds: readonly string[];
  readonly runs: readonly TankRun[];
  readonly fromMs: number;
  readonly untilMs: number;
  readonly timeZone: string;
  readonly openings?: readonly Span[] | undefined;
}): readonly TankWeek[] {
  const { fromMs, untilMs } = input;
  const all = input.openings ?? [{ fromMs, untilMs }];
  const weeks = isoWeeksBetween(fromMs, untilMs, input.timeZone);
  return input.tankIds.flatMap((tankId) => {
    const runs = input.runs.filter((run) => run.tankId === tankId);
    return weeks.map((week) => {
      const there = cut(cut(all, week), { fromMs, untilMs });
      const total = hoursOf(there);
      const usedHours = there.reduce((sum, span) => sum + hoursOf(cut(runs, span)), 0);
      const { year, week: number, monday } = week;
      return { tankId, year, week: number, monday, usedHours, freeHours: total - usedHours };
    });
  });
}

/** The parts of stretches that lie inside another; the live runs of a tank never overlap, so nothing counts twice. */
function cut(spans: readonly Span[], inside: Span): Span[] {
  return spans
    .map((span) => ({
      fromMs: Math.max(span.fromMs, inside.fromMs),
      untilMs: Math.min(span.untilMs, inside.untilMs),
    }))
    .filter((span) => span.fromMs < span.untilMs);
}

const hoursOf = (spans: readonly Span[]): number =>
  spans.reduce((sum, span) => sum + (span.untilMs - span.fromMs), 0) / MS_PER_HOUR;
