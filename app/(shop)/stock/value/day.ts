import { dayAt } from "@/lib/scheduling";
import { input } from "@/lib/server";

/**
 * The day in an address, as midnight UTC: today where it names none, or none that was.
 *
 * @param asked "2030-01-07"
 */
export function askedDay(asked: unknown, timeZone: string, now: Date): Date {
  const today = new Date(`${dayAt(now.getTime(), timeZone)}T00:00:00Z`);
  const day = input.day.safeParse(asked);
  return day.success && day.data < today ? day.data : today;
}
