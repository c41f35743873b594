/** The example shop's clock: open hours of its days, as instants, in its own zone. */
import { Temporal } from "temporal-polyfill";
import type { ExampleRows } from "@/lib/data";
import type { Random } from "./random";

/** Monday to Friday 08:00–17:00, Saturday 09:00–12:00; minutes after local midnight by ISO weekday. */
const HOURS: ReadonlyMap<number, readonly [opens: number, closes: number]> = new Map([
  [1, [480, 1020]],
  [2, [480, 1020]],
  [3, [480, 1020]],
  [4, [480, 1020]],
  [5, [480, 1020]],
  [6, [540, 720]],
]);

export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

export function addOpeningHours(rows: ExampleRows): void {
  for (const [weekday, [opensMinute, closesMinute]] of HOURS) {
    rows.openingHours.push({ weekday, opensMinute, closesMinute });
  }
}

/** An instant when the shop is open, on the given local day or the next open one. */
export function openInstant(chance: Random, zone: string, from: Date): Date {
  const { opens, closes } = openDay(zone, from);
  return new Date(chance.between(opens, closes - 20 * MINUTE));
}

/** The instant itself when the shop is open then, else the next opening. */
export function nextOpen(zone: string, at: Date): Date {
  const { opens, closes } = openDay(zone, at);
  if (at.getTime() < opens) return new Date(opens);
  if (at.getTime() <= closes) return at;
  return nextOpen(zone, new Date(startOfNextDay(zone, at)));
}

/** The first opening that leaves `minutes` of open time, so that a load is not begun at the door. */
export function nextOpenWithRoom(zone: string, at: Date, minutes: number): Date {
  const open = nextOpen(zone, at);
  const { closes } = openDay(zone, open);
  if (open.getTime() + minutes * MINUTE <= closes) return open;
  return nextOpen(zone, new Date(startOfNextDay(zone, open)));
}

/** The next full quarter of an hour: nobody books 09:37. */
export const onQuarter = (at: Date): Date =>
  new Date(Math.ceil(at.getTime() / (15 * MINUTE)) * 15 * MINUTE);

/** The local calendar day of an instant, as the UTC midnight that a date column takes. */
export function dayOf(zone: string, at: Date): Date {
  return new Date(`${localDate(zone, at).toString()}T00:00:00Z`);
}

function openDay(zone: string, at: Date): { opens: number; closes: number } {
  let day = localDate(zone, at);
  for (;;) {
    const hours = HOURS.get(day.dayOfWeek);
    if (hours)
      return { opens: minuteOfDay(day, zone, hours[0]), closes: minuteOfDay(day, zone, hours[1]) };
    day = day.add({ days: 1 });
  }
}

function minuteOfDay(day: Temporal.PlainDate, zone: string, minute: number): number {
  const time = new Temporal.PlainTime(Math.floor(minute / 60), minute % 60);
  return day.toZonedDateTime({ timeZone: zone, plainTime: time }).epochMilliseconds;
}

function startOfNextDay(zone: string, at: Date): number {
  return localDate(zone, at).add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds;
}

function localDate(zone: string, at: Date): Temporal.PlainDate {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime())
    .toZonedDateTimeISO(zone)
    .toPlainDate();
}
