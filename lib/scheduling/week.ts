import { Temporal } from "temporal-polyfill";
import type { Span } from "./calendar";

/** A week of ISO 8601: Monday to Sunday; week 1 holds the year's first Thursday. */
export type IsoWeek = { readonly year: number; readonly week: number };

/**
 * The ISO week of a calendar day, and its weekday.
 *
 * @param day YYYY-MM-DD
 * @returns `weekday` 1 Monday … 7 Sunday; `year` is the week's year, which may differ from the day's
 * @throws RangeError when it is not a calendar day
 * @example isoWeekOf("2005-01-01") // { year: 2004, week: 53, weekday: 6 }
 */
export function isoWeekOf(day: string): IsoWeek & { readonly weekday: number } {
  const date = Temporal.PlainDate.from(day);
  // The ISO calendar always has both; the types allow for calendars without weeks.
  return {
    year: date.yearOfWeek ?? date.year,
    week: date.weekOfYear ?? 0,
    weekday: date.dayOfWeek,
  };
}

/** The week as ISO 8601 writes it. @example isoWeekText({ year: 2009, week: 1 }) // "2009-W01" */
export function isoWeekText({ year, week }: IsoWeek): string {
  return `${year}-W${String(week).padStart(2, "0")}`;
}

export type WeekSpan = IsoWeek & Span & { readonly monday: string };

/**
 * The ISO weeks that two instants reach over, whole, in a zone: 168 h each, 167 or 169 where the clocks change.
 *
 * @example isoWeeksBetween(fromMs, untilMs, "Europe/Berlin")[0] // { year: 2026, week: 13, monday: "2026-03-23", … }
 */
export function isoWeeksBetween(
  fromMs: number,
  untilMs: number,
  timeZone: string,
): readonly WeekSpan[] {
  const first = Temporal.Instant.fromEpochMilliseconds(fromMs)
    .toZonedDateTimeISO(timeZone)
    .toPlainDate();
  const weeks: WeekSpan[] = [];
  let monday = first.subtract({ days: first.dayOfWeek - 1 });
  for (;;) {
    const startMs = monday.toZonedDateTime({ timeZone }).epochMilliseconds;
    if (startMs >= untilMs) return weeks;
    const next = monday.add({ days: 7 });
    const { year, week } = isoWeekOf(monday.toString());
    const endMs = next.toZonedDateTime({ timeZone }).epochMilliseconds;
    weeks.push({ year, week, monday: monday.toString(), fromMs: startMs, untilMs: endMs });
    monday = next;
  }
}
