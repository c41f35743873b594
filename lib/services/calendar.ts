/** Calendar days of the shop. A day is stored as midnight UTC of its date, whatever the zone. */
import { dayAt, startOfDay as startOfDayMs } from "@/lib/scheduling";

const DAY_MS = 86_400_000;

/** The day it is in `timeZone` at `instant`. @example calendarDay(new Date("2030-01-07T23:30Z"), "Europe/Berlin") // 8 January */
export function calendarDay(instant: Date, timeZone: string): Date {
  return new Date(`${dayAt(instant.getTime(), timeZone)}T00:00:00Z`);
}

/** A calendar day as YYYY-MM-DD. */
export const dateText = (day: Date): string => day.toISOString().slice(0, 10);

/** The instant at which a day begins in `timeZone`, daylight saving included. */
export function startOfDay(day: Date, timeZone: string): Date {
  return new Date(startOfDayMs(dateText(day), timeZone));
}

/** The instant at which a day is over in `timeZone`. */
export function endOfDay(day: Date, timeZone: string): Date {
  return startOfDay(addDays(day, 1), timeZone);
}

/** @param days whole days, negative to go back */
export function addDays(day: Date, days: number): Date {
  return new Date(day.getTime() + days * DAY_MS);
}

/** Monday of the week that a day is in (ISO 8601 weeks). */
export function mondayOf(day: Date): Date {
  return addDays(day, -((day.getUTCDay() + 6) % 7));
}

/**
 * Minutes since Monday 00:00 by the shop's clock, 0 to 10 079. Where the clocks change it is what they show.
 *
 * @example minuteOfWeek(new Date("2030-01-07T09:30Z"), "Europe/Berlin") // 630, a Monday at 10:30
 */
export function minuteOfWeek(instant: Date, timeZone: string): number {
  const clock = new Intl.DateTimeFormat("en-GB", {
    timeZone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(instant);
  const [hour = 0, minute = 0] = clock.split(":").map(Number);
  const weekday = (calendarDay(instant, timeZone).getUTCDay() + 6) % 7;
  return (weekday * 24 + hour) * 60 + minute;
}

/** A day written out in the customs of `locale`. @example dayText(day, "en-GB") // "25 November 2026" */
export function dayText(day: Date, locale: string): string {
  return new Intl.DateTimeFormat(locale, { timeZone: "UTC", dateStyle: "long" }).format(day);
}

/** An instant written out in the shop's zone and customs. @example whenText(at, shop) // "Mon, 7 Jan, 09:05" */
export function whenText(
  at: Date,
  { timeZone, locale }: { readonly timeZone: string; readonly locale: string },
): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone,
    weekday: "short",
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(at);
}
