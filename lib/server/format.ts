/** Instants and days as people read them, in the shop's zone and customs. On the server only: browsers differ. */
import type { ShopRow } from "@/lib/data";

type Place = Pick<ShopRow, "timeZone" | "locale">;

/** @example formatWhen(at, shop) // "Mon, 7 Jan, 09:05" */
export function formatWhen(at: Date, { timeZone, locale }: Place): string {
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

/** @example formatTime(at, shop) // "09:05" */
export function formatTime(at: Date, { timeZone, locale }: Place): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(at);
}

/** The local day of an instant. @example formatDate(at, shop) // "7 Jan 2030" */
export function formatDate(at: Date, { timeZone, locale }: Place): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone,
    day: "numeric",
    month: "short",
    year: "numeric",
  }).format(at);
}

/** A stored day (midnight UTC). @example formatDay(day, shop) // "Mon 7 Jan 2030" */
export function formatDay(day: Date, { locale }: Place): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone: "UTC",
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
  }).format(day);
}

/** A length of time. @example formatDuration(5_400_000) // "1 h 30 min" */
export function formatDuration(milliseconds: number): string {
  const minutes = Math.max(0, Math.round(milliseconds / 60_000));
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.floor(hours / 24)} d ${hours % 24} h`;
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

/** Value of a datetime-local field for an instant, in the shop's zone. */
export function localInputValue(at: Date, timeZone: string): string {
  const parts = new Intl.DateTimeFormat("sv-SE", {
    timeZone,
    dateStyle: "short",
    timeStyle: "short",
  }).format(at);
  return parts.replace(" ", "T");
}
