/** What of a long board is in the page at all: only what is seen, and a little around it. Pure. */

export type Placed = { readonly fromMs: number; readonly untilMs: number };

/** Things along one lane, ready to be asked what lies in a stretch. */
export type Shelf<Item extends Placed> = {
  /** by start */
  readonly items: readonly Item[];
  /** the latest end among the first n + 1: never falls, so that it can be searched by halves */
  readonly latest: readonly number[];
};

/** @param items in any order */
export function shelfOf<Item extends Placed>(items: readonly Item[]): Shelf<Item> {
  const sorted = [...items].sort((a, b) => a.fromMs - b.fromMs);
  let end = -Infinity;
  return { items: sorted, latest: sorted.map(({ untilMs }) => (end = Math.max(end, untilMs))) };
}

/**
 * What lies in a stretch, with the next one on either side and the first and last of the lane: a person who goes from
 * one to the next by the Tab key then always finds it in the page.
 */
export function seenOn<Item extends Placed>(
  { items, latest }: Shelf<Item>,
  fromMs: number,
  untilMs: number,
): readonly Item[] {
  const first = firstWhere(items.length, (index) => (latest[index] ?? 0) > fromMs);
  const end = firstWhere(items.length, (index) => (items[index]?.fromMs ?? 0) >= untilMs);
  const within = items.slice(first, end).filter((item) => item.untilMs > fromMs);
  const around = [items[first - 1], items[end], items[0], items.at(-1)];
  const all = new Set([...within, ...around.filter((item) => item !== undefined)]);
  return [...all].sort((a, b) => a.fromMs - b.fromMs);
}

/** The first index for which something holds that holds for all after it; `count` where it holds for none. */
function firstWhere(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

export type Window = { readonly from: number; readonly until: number };

/**
 * The stretch of pixels to keep in the page: a quarter of a view or more on either side, and changed only each quarter
 * of a view, so that scrolling itself is the browser's alone.
 */
export function windowAt(scrollPx: number, viewPx: number): Window {
  const step = Math.max(1, viewPx / 4);
  const at = Math.floor(Math.max(0, scrollPx) / step);
  return { from: (at - 1) * step, until: (at + 6) * step };
}

/** Indexes of the lanes that lie in a window, with one more on either side. */
export function lanesIn(
  { from, until }: Window,
  lanePx: number,
  count: number,
): { readonly first: number; readonly end: number } {
  const first = Math.max(0, Math.floor(from / lanePx) - 1);
  return { first: Math.min(first, count), end: Math.min(count, Math.ceil(until / lanePx) + 1) };
}
