import { dayAt } from "@/lib/scheduling";
import { type BoardSpan, dayAfter, DAYS } from "./span";

/** The first day of a board that shows an instant: the days as they are, where it is among them. */
export function startOfSpan({ view, from }: BoardSpan, atMs: number, timeZone: string): string {
  const day = dayAt(atMs, timeZone);
  return from <= day && day < dayAfter(from, DAYS[view]) ? from : day;
}
