/** Weeks of use: the whole ones behind us, and the booked ones ahead. */
import { addDays, mondayOf } from "./calendar";

/** Whole weeks whose use tells of the weeks to come. */
export const WEEKS_BEHIND = 12;
/** Weeks ahead whose bookings are counted. */
const WEEKS_AHEAD = 12;

/** Monday of the first of the whole weeks before this one. */
export const firstWeekOf = (today: Date): Date => addDays(mondayOf(today), -7 * WEEKS_BEHIND);

type InWeek = { readonly week: Date };

/** The whole weeks behind us since something was there, idle ones with 0; oldest first. */
export function weeksBehind<Row extends InWeek>(
  rows: readonly Row[],
  today: Date,
  since: Date,
  value: (row: Row) => number,
): readonly { readonly week: Date; readonly value: number }[] {
  const weeks = Array.from({ length: WEEKS_BEHIND }, (_, index) =>
    addDays(firstWeekOf(today), 7 * index),
  );
  return weeks
    .filter((week) => addDays(week, 7) > since)
    .map((week) => ({ week, value: totalOf(rows, week, value) }));
}

/** What is booked for the coming weeks, this one first, up to the last with a booking. What is overdue counts as now. */
export function weeksAhead<Row extends InWeek>(
  rows: readonly Row[],
  today: Date,
  value: (row: Row) => number,
): readonly number[] {
  const monday = mondayOf(today);
  const late = rows.filter(({ week }) => week < monday);
  const weeks = Array.from({ length: WEEKS_AHEAD }, (_, index) =>
    totalOf(rows, addDays(monday, 7 * index), value),
  );
  weeks[0] = (weeks[0] ?? 0) + late.reduce((sum, row) => sum + value(row), 0);
  const last = weeks.findLastIndex((booked) => booked > 0);
  return weeks.slice(0, last + 1);
}

function totalOf<Row extends InWeek>(
  rows: readonly Row[],
  week: Date,
  value: (row: Row) => number,
): number {
  return rows
    .filter((row) => row.week.getTime() === week.getTime())
    .reduce((sum, row) => sum + value(row), 0);
}
