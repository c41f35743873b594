/** Where instants lie on the board. Positions go by instants: a day of 23 or 25 hours is drawn as long as it is. Pure. */
import type { Span } from "@/lib/scheduling";
import type { Clock } from "./clock";
import type { View } from "./span";

const HOUR_MS = 3_600_000;
const HALF_HOUR_MS = HOUR_MS / 2;

/**
 * Time lies across on a wide screen; on a phone it runs down, as the thumb scrolls, and tanks stand beside one
 * another.
 */
export type Layout = {
  readonly upright: boolean;
  /** px of a tank's lane across time */
  readonly lanePx: number;
  /** px of the tanks' heads, along time */
  readonly headPx: number;
  /** px of the scale of time, across it */
  readonly scalePx: number;
  readonly pxPerHour: number;
};

/** Least px an hour, so that a usual load can be seen and, but for the month, touched. */
const LEAST_ACROSS: Readonly<Record<View, number>> = { day: 44, week: 6.5, month: 1.3 };
const UPRIGHT: Readonly<Record<View, number>> = { day: 64, week: 16, month: 5 };

const WIDE_HEAD = 212;
const WIDE_SCALE = 48;
const LANE_LEAST = 92;
const LANE_MOST = 190;
const UPRIGHT_HEAD = 92;
const UPRIGHT_SCALE = 52;
const COLUMN_LEAST = 104;

/** Below this width the board stands upright. */
export const UPRIGHT_BELOW_PX = 720;

/** Lays the board out for the room there is: a wide one fills it, so that it reads across a room. */
export function layoutFor(
  view: View,
  room: { readonly width: number; readonly height: number },
  board: Span & { readonly lanes: readonly unknown[] },
): Layout {
  const lanes = Math.max(1, board.lanes.length);
  if (room.width < UPRIGHT_BELOW_PX) {
    const lanePx = Math.max(COLUMN_LEAST, Math.floor((room.width - UPRIGHT_SCALE) / lanes));
    return {
      upright: true,
      lanePx,
      headPx: UPRIGHT_HEAD,
      scalePx: UPRIGHT_SCALE,
      pxPerHour: UPRIGHT[view],
    };
  }
  const hours = (board.untilMs - board.fromMs) / HOUR_MS;
  const fit = (room.width - WIDE_HEAD) / hours;
  const high = Math.floor((room.height - WIDE_SCALE) / lanes);
  return {
    upright: false,
    lanePx: Math.min(LANE_MOST, Math.max(LANE_LEAST, high)),
    headPx: WIDE_HEAD,
    scalePx: WIDE_SCALE,
    pxPerHour: Math.max(fit, LEAST_ACROSS[view]),
  };
}

/** px from the board's first instant. */
export const alongPx = (ms: number, fromMs: number, { pxPerHour }: Layout): number =>
  ((ms - fromMs) / HOUR_MS) * pxPerHour;

/** The instant at a place along the board. */
export const instantAt = (px: number, fromMs: number, { pxPerHour }: Layout): number =>
  fromMs + (px / pxPerHour) * HOUR_MS;

/** The nearest instant that starts and pulls may lie on. */
export const snapped = (ms: number, stepMs: number): number => Math.round(ms / stepMs) * stepMs;

export type Box = { readonly along: number; readonly size: number };

/** A stretch along time, cut to what the board shows; null where nothing of it is shown. */
export function boxOf(span: Span, shown: Span, layout: Layout): Box | null {
  const from = Math.max(span.fromMs, shown.fromMs);
  const until = Math.min(span.untilMs, shown.untilMs);
  if (until <= from) return null;
  const along = alongPx(from, shown.fromMs, layout);
  return { along, size: alongPx(until, shown.fromMs, layout) - along };
}

/** The stretches when nobody is there. */
export function shutSpans(openings: readonly Span[], shown: Span): readonly Span[] {
  const shut: Span[] = [];
  let from = shown.fromMs;
  for (const opening of openings) {
    if (opening.fromMs >= shown.untilMs) break;
    if (opening.untilMs <= from) continue;
    if (opening.fromMs > from) shut.push({ fromMs: from, untilMs: opening.fromMs });
    from = opening.untilMs;
  }
  if (from < shown.untilMs) shut.push({ fromMs: from, untilMs: shown.untilMs });
  return shut;
}

/** Hours between two marks of the scale; null where only days are marked. */
function hoursApart({ pxPerHour, upright }: Layout): number | null {
  const least = upright ? 22 : 44;
  return [1, 2, 3, 6, 12].find((hours) => hours * pxPerHour >= least) ?? null;
}

export type Mark = { readonly atMs: number; readonly label: string };

/** The hours that the scale marks within a day, as the clock on the wall has them; midnight is the day's own mark. */
export function hourMarks(day: Span, layout: Layout, clock: Clock): readonly Mark[] {
  const apart = hoursApart(layout);
  if (apart === null) return [];
  const marks: Mark[] = [];
  // By half hours, since some zones change their clocks by half an hour.
  for (let atMs = day.fromMs + HALF_HOUR_MS; atMs < day.untilMs; atMs += HALF_HOUR_MS) {
    const minute = clock.minute(atMs);
    if (minute % (60 * apart) === 0) marks.push({ atMs, label: clock.time(atMs) });
  }
  return marks;
}
