/** Which stretch of days the board shows, as its address says it. Pure. */

export const VIEWS = ["day", "week", "month"] as const;
export type View = (typeof VIEWS)[number];

/** Days that each view shows. */
export const DAYS: Readonly<Record<View, number>> = { day: 1, week: 7, month: 35 };

/** Days that “Earlier” and “Later” go. */
const STEP: Readonly<Record<View, number>> = { day: 1, week: 7, month: 28 };

export type BoardSpan = {
  readonly view: View;
  /** first day, YYYY-MM-DD */
  readonly from: string;
};

const DAY = /^[1-9]\d{3}-\d{2}-\d{2}$/;
const DAY_MS = 86_400_000;

type Query = Readonly<Record<string, string | readonly string[] | undefined>>;

/** Reads the address; what it does not say, or says wrongly, is this week from today. */
export function spanFrom(query: Query, today: string): BoardSpan {
  const { from } = query;
  const view = VIEWS.find((known) => known === query["view"]) ?? "week";
  return { view, from: typeof from === "string" && isDay(from) ? from : today };
}

/** Whether a text is a day of the calendar: the 30th of February is none. */
export function isDay(text: string): boolean {
  if (!DAY.test(text)) return false;
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}

/** @example dayAfter("2026-02-28", 1) // "2026-03-01" */
export function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

export const earlier = ({ view, from }: BoardSpan): BoardSpan => ({
  view,
  from: dayAfter(from, -STEP[view]),
});

export const later = ({ view, from }: BoardSpan): BoardSpan => ({
  view,
  from: dayAfter(from, STEP[view]),
});

/** What else the address keeps: the part that a slot is looked for, and whether the board stands as a list. */
export type Kept = { readonly part?: string | undefined; readonly as?: string | undefined };

/** The board's address for a stretch of days. */
export function addressOf({ view, from }: BoardSpan, { part, as }: Kept = {}): string {
  const query = new URLSearchParams({ view, from });
  if (part) query.set("part", part);
  if (as) query.set("as", as);
  return `/board?${query.toString()}`;
}
