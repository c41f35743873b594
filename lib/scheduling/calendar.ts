import { Temporal } from "temporal-polyfill";
import { checkRange } from "@/lib/units";

/** A stretch of time, from an instant up to, but not at, another; epoch ms. */
export type Span = { readonly fromMs: number; readonly untilMs: number };

/** One stretch of one weekday when somebody is there; wall-clock minutes after midnight. */
export type OpenHours = {
  /** ISO 8601: 1 Monday … 7 Sunday */
  readonly weekday: number;
  /** 0 to 1439 */
  readonly opensMinute: number;
  /** 1 to 1440, after `opensMinute` */
  readonly closesMinute: number;
};

/** Hours of one calendar day, YYYY-MM-DD, that stand in for its weekday's. */
export type SpecialHours = Pick<OpenHours, "opensMinute" | "closesMinute"> & {
  readonly day: string;
};

/** When somebody is in the shop to load and pull. */
export type ShopCalendar = {
  /** IANA name, such as Europe/Berlin */
  readonly timeZone: string;
  readonly hours: readonly OpenHours[];
  /** calendar days, YYYY-MM-DD, on which nobody is there */
  readonly closedDays: readonly string[];
  /** days with hours of their own, such as one open Saturday; on a closed day they count too */
  readonly specialHours?: readonly SpecialHours[];
};

const MINUTES_PER_DAY = 1440;

/**
 * The stretches between two instants when the shop is open, in order; those that touch are joined.
 *
 * Hours are what the clock on the wall shows, so a shop that opens at 08:00 opens at 08:00 on the day the clocks
 * change too, and a stretch over the change is an hour shorter or longer. A time that the change skips counts as
 * the instant after the gap, as RFC 5545 and Temporal's "compatible" rule have it.
 *
 * @throws RangeError when the zone is unknown or an opening is not a real span of a real weekday
 * @example openingsBetween(calendar, Date.parse("2026-03-29T00:00Z"), Date.parse("2026-03-30T00:00Z"))
 */
export function openingsBetween(
  calendar: ShopCalendar,
  fromMs: number,
  untilMs: number,
): readonly Span[] {
  calendar.hours.forEach(checkHours);
  calendar.specialHours?.forEach((hours) => {
    checkHours({ ...hours, weekday: 1 });
  });
  const closed = new Set(calendar.closedDays);
  const openings: Span[] = [];
  let day = dayOf(fromMs, calendar.timeZone);
  const last = dayOf(untilMs, calendar.timeZone);
  while (Temporal.PlainDate.compare(day, last) <= 0) {
    const name = day.toString();
    const own = calendar.specialHours?.filter((hours) => hours.day === name) ?? [];
    if (own.length > 0) openings.push(...spansOf(day, own, calendar.timeZone));
    else if (!closed.has(name)) openings.push(...openingsOf(day, calendar));
    day = day.add({ days: 1 });
  }
  return joined(openings)
    .map((span) => ({
      fromMs: Math.max(span.fromMs, fromMs),
      untilMs: Math.min(span.untilMs, untilMs),
    }))
    .filter((span) => span.fromMs < span.untilMs);
}

/**
 * The calendar day at an instant.
 * @example dayAt(Date.parse("2026-11-25T23:30Z"), "Europe/Berlin") // "2026-11-26"
 */
export function dayAt(atMs: number, timeZone: string): string {
  return dayOf(atMs, timeZone).toString();
}

/** The instant a calendar day (YYYY-MM-DD) begins in a zone: midnight, or the end of a gap that skips it. */
export function startOfDay(day: string, timeZone: string): number {
  return Temporal.PlainDate.from(day).toZonedDateTime({ timeZone }).epochMilliseconds;
}

/**
 * The instant of a wall-clock time as an input of type datetime-local gives it.
 * @throws RangeError when it is not such a time
 * @example instantOf("2026-11-25T14:10", "Europe/Berlin") // 13:10 UTC
 */
export function instantOf(localTime: string, timeZone: string): number {
  return Temporal.PlainDateTime.from(localTime).toZonedDateTime(timeZone).epochMilliseconds;
}

/** The wall-clock time of an instant to the minute, as an input of type datetime-local takes it. */
export function localTimeAt(atMs: number, timeZone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(atMs)
    .toZonedDateTimeISO(timeZone)
    .toPlainDateTime()
    .toString({ smallestUnit: "minute" });
}

function openingsOf(day: Temporal.PlainDate, { hours, timeZone }: ShopCalendar): Span[] {
  const ofDay = hours.filter(({ weekday }) => weekday === day.dayOfWeek);
  return spansOf(day, ofDay, timeZone);
}

function spansOf(
  day: Temporal.PlainDate,
  hours: readonly Pick<OpenHours, "opensMinute" | "closesMinute">[],
  timeZone: string,
): Span[] {
  return hours
    .map(({ opensMinute, closesMinute }) => ({
      fromMs: wallClock(day, opensMinute, timeZone),
      untilMs: wallClock(day, closesMinute, timeZone),
    }))
    .filter((span) => span.fromMs < span.untilMs);
}

function wallClock(day: Temporal.PlainDate, minute: number, timeZone: string): number {
  if (minute === MINUTES_PER_DAY) {
    return day.add({ days: 1 }).toZonedDateTime({ timeZone }).epochMilliseconds;
  }
  const plainTime = new Temporal.PlainTime(Math.floor(minute / 60), minute % 60);
  return day.toZonedDateTime({ timeZone, plainTime }).epochMilliseconds;
}

/** Sorts stretches and joins those that touch or overlap. */
export function joined(spans: readonly Span[]): readonly Span[] {
  const result: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.fromMs - b.fromMs)) {
    const before = result.at(-1);
    if (before && span.fromMs <= before.untilMs) {
      result[result.length - 1] = {
        fromMs: before.fromMs,
        untilMs: Math.max(before.untilMs, span.untilMs),
      };
    } else result.push(span);
  }
  return result;
}

function dayOf(atMs: number, timeZone: string): Temporal.PlainDate {
  const instant = Temporal.Instant.fromEpochMilliseconds(Math.floor(atMs));
  return instant.toZonedDateTimeISO(timeZone).toPlainDate();
}

function checkHours({ weekday, opensMinute, closesMinute }: OpenHours): void {
  checkRange("weekday", weekday, 1, 7, "(1 Monday to 7 Sunday)");
  checkRange("opening", opensMinute, 0, MINUTES_PER_DAY - 1, "min after midnight");
  checkRange("closing", closesMinute, opensMinute + 1, MINUTES_PER_DAY, "min after midnight");
}
