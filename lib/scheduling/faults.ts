import type { Board, BoardLoad, Held } from "./board";
import type { Span } from "./calendar";
import { benchMinutesBy } from "./place";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** A rule that a load breaks where it lies, and with whom. */
export type Fault =
  /** something else is in the tank */
  | ({ readonly kind: "TANK"; readonly withId: string } & Span)
  /** together with others it asks for more than the supply gives without end */
  | ({
      readonly kind: "SUPPLY";
      readonly withIds: readonly string[];
      readonly amperes: number;
      readonly ratingA: number;
    } & Span)
  /** nobody is there for the whole of it */
  | ({ readonly kind: "SHUT"; readonly work: "load" | "pull" } & Span)
  /** everybody there has their hands full */
  | ({
      readonly kind: "HANDS";
      readonly work: "load" | "pull";
      readonly withIds: readonly string[];
    } & Span)
  /** it begins before it can */
  | { readonly kind: "TOO_EARLY"; readonly notBeforeMs: number }
  /** the other end of a part goes in first */
  | { readonly kind: "ORDER"; readonly afterDipId: string; readonly untilMs: number }
  /** the tank is held for less than the treatment asks */
  | { readonly kind: "TOO_SHORT"; readonly hours: number }
  /** past the end of what is planned */
  | { readonly kind: "HORIZON"; readonly horizonMs: number };

/**
 * Every rule that one load breaks on a board with others; empty when it may lie there.
 *
 * Exact to the millisecond, whatever the step: this is what a person sees while moving a load.
 *
 * @param loads the others; `load` itself, by its id, is left out of them
 * @example faultsOf(board, loads, { ...load, startsAtMs: load.startsAtMs + 900_000 })
 */
export function faultsOf(
  board: Board,
  loads: readonly BoardLoad[],
  load: BoardLoad,
): readonly Fault[] {
  const others = loads.filter(({ id }) => id !== load.id);
  const minutes = benchMinutesBy(board);
  const own = goneMs(board, load, minutes(load.dipIds));
  // Only what is there at the same time can be in the way.
  const beside = others.filter(
    (other) =>
      other.startsAtMs < own && load.startsAtMs < goneMs(board, other, minutes(other.dipIds)),
  );
  return [
    ...inTank(board, beside, load),
    ...onSupply(board, beside, load),
    ...withHands(board, beside, load, minutes),
    ...inTime(board, load),
    ...inOrder(board, others, load),
  ];
}

/** When a load is out, finished and nobody's concern any more. */
function goneMs(board: Board, load: BoardLoad, benchMinutes: number): number {
  const { loadMinutes, pullMinutes } = board;
  const loadedMs = load.startsAtMs + loadMinutes * MS_PER_MINUTE;
  const finishedMs = load.pullAtMs + (pullMinutes + benchMinutes) * MS_PER_MINUTE;
  return Math.max(loadedMs, load.endsAtMs, finishedMs);
}

const spanOf = ({ startsAtMs, endsAtMs }: BoardLoad): Span => ({
  fromMs: startsAtMs,
  untilMs: endsAtMs,
});

const common = (a: Span, b: Span): Span | null => {
  const fromMs = Math.max(a.fromMs, b.fromMs);
  const untilMs = Math.min(a.untilMs, b.untilMs);
  return fromMs < untilMs ? { fromMs, untilMs } : null;
};

function inTank(board: Board, others: readonly BoardLoad[], load: BoardLoad): Fault[] {
  const inIt: readonly (Span & { id: string; tankId: string })[] = [
    ...board.held,
    ...others.map((other) => ({ ...spanOf(other), id: other.id, tankId: other.tankId })),
  ];
  return inIt
    .filter(({ tankId }) => tankId === load.tankId)
    .flatMap((other) => {
      const both = common(spanOf(load), other);
      return both ? [{ kind: "TANK" as const, withId: other.id, ...both }] : [];
    });
}

type Drawing = Span & { readonly id: string; readonly currentA: number };

function onSupply(board: Board, others: readonly BoardLoad[], load: BoardLoad): Fault[] {
  const supplyOf = new Map(board.tanks.map(({ id, supplyId }) => [id, supplyId]));
  const supplyId = supplyOf.get(load.tankId);
  const supply = board.supplies.find(({ id }) => id === supplyId);
  if (!supply) return [];
  const beside: Drawing[] = [
    ...board.held.filter(({ tankId }) => supplyOf.get(tankId) === supplyId),
    ...others
      .filter(({ tankId }) => supplyOf.get(tankId) === supplyId)
      .map((other) => ({ ...spanOf(other), id: other.id, currentA: other.needs.currentA })),
  ].filter((other) => other.currentA > 0 && common(spanOf(load), other) !== null);
  const own = { ...spanOf(load), id: load.id, currentA: load.needs.currentA };
  return overdrawn([...beside, own], supply.ratingA, own);
}

/** Stretches of a load in which all that draw come to more than the rating; those that touch are told as one. */
function overdrawn(all: readonly Drawing[], ratingA: number, own: Drawing): Fault[] {
  const instants = [...new Set(all.flatMap(({ fromMs, untilMs }) => [fromMs, untilMs]))]
    .filter((at) => at >= own.fromMs && at <= own.untilMs)
    .sort((a, b) => a - b);
  const faults: Extract<Fault, { kind: "SUPPLY" }>[] = [];
  for (const [index, fromMs] of instants.entries()) {
    const untilMs = instants[index + 1];
    if (untilMs === undefined) break;
    const drawing = all.filter((one) => one.fromMs <= fromMs && one.untilMs > fromMs);
    const amperes = drawing.reduce((sum, { currentA }) => sum + currentA, 0);
    if (amperes <= ratingA * (1 + 1e-9)) continue;
    const withIds = drawing.map(({ id }) => id).filter((id) => id !== own.id);
    const before = faults.at(-1);
    if (before?.untilMs === fromMs) {
      faults[faults.length - 1] = {
        ...before,
        untilMs,
        amperes: Math.max(before.amperes, amperes),
        withIds: [...new Set([...before.withIds, ...withIds])],
      };
    } else faults.push({ kind: "SUPPLY", withIds, amperes, ratingA, fromMs, untilMs });
  }
  return faults;
}

type Work = Span & { readonly id: string };

function withHands(
  board: Board,
  others: readonly BoardLoad[],
  load: BoardLoad,
  minutes: (dipIds: readonly string[]) => number,
): Fault[] {
  const longestMs = Math.max(0, ...board.openings.map((open) => open.untilMs - open.fromMs));
  const [loading, pulling] = worksOf(board, load, minutes(load.dipIds), longestMs);
  const beside: Work[] = [
    ...board.held.flatMap(heldWorks),
    ...others.flatMap((other) => worksOf(board, other, minutes(other.dipIds), longestMs)),
  ];
  const faults: Fault[] = [];
  for (const [work, span] of [
    ["load", loading],
    ["pull", pulling],
  ] as const) {
    const isThere = board.openings.some(
      (open) => open.fromMs <= span.fromMs && span.untilMs <= open.untilMs,
    );
    if (!isThere) faults.push({ kind: "SHUT", work, fromMs: span.fromMs, untilMs: span.untilMs });
    const busy = mostAtOnce(beside, span);
    if (busy.count >= board.hands) {
      faults.push({
        kind: "HANDS",
        work,
        withIds: busy.ids,
        fromMs: busy.atMs,
        untilMs: span.untilMs,
      });
    }
  }
  return faults;
}

const heldWorks = ({ id, attended }: Held): Work[] => attended.map((span) => ({ id, ...span }));

/** Loading, then pulling with what follows it, as far as the longest opening has room for that. */
function worksOf(
  board: Board,
  load: BoardLoad,
  benchMinutes: number,
  longestMs: number,
): [Work, Work] {
  const pullMs = board.pullMinutes * MS_PER_MINUTE;
  const wantedMs = pullMs + benchMinutes * MS_PER_MINUTE;
  const attendedMs = Math.max(pullMs, Math.min(wantedMs, longestMs));
  return [
    {
      id: load.id,
      fromMs: load.startsAtMs,
      untilMs: load.startsAtMs + board.loadMinutes * MS_PER_MINUTE,
    },
    { id: load.id, fromMs: load.pullAtMs, untilMs: load.pullAtMs + attendedMs },
  ];
}

function mostAtOnce(
  works: readonly Work[],
  during: Span,
): { readonly count: number; readonly ids: readonly string[]; readonly atMs: number } {
  const beside = works.filter((work) => common(work, during) !== null);
  let most = { count: 0, ids: [] as readonly string[], atMs: during.fromMs };
  for (const { fromMs } of [during, ...beside]) {
    const atMs = Math.max(fromMs, during.fromMs);
    const there = beside.filter((work) => work.fromMs <= atMs && work.untilMs > atMs);
    if (there.length > most.count) {
      most = { count: there.length, ids: there.map(({ id }) => id), atMs };
    }
  }
  return most;
}

function inTime(board: Board, load: BoardLoad): Fault[] {
  const releases = board.dips
    .filter(({ id }) => load.dipIds.includes(id))
    .map(({ releaseMs }) => releaseMs);
  const notBeforeMs = Math.max(board.nowMs, ...releases);
  const treatedMs = load.pullAtMs - load.startsAtMs - board.loadMinutes * MS_PER_MINUTE;
  const short = load.needs.hours - treatedMs / MS_PER_HOUR;
  return [
    ...(load.startsAtMs < notBeforeMs ? [{ kind: "TOO_EARLY" as const, notBeforeMs }] : []),
    ...(short > 1e-6 ? [{ kind: "TOO_SHORT" as const, hours: short }] : []),
    ...(load.endsAtMs > board.horizonMs
      ? [{ kind: "HORIZON" as const, horizonMs: board.horizonMs }]
      : []),
  ];
}

function inOrder(board: Board, others: readonly BoardLoad[], load: BoardLoad): Fault[] {
  return board.dips.flatMap((dip): Fault[] => {
    if (dip.afterId === null) return [];
    const { afterId } = dip;
    if (!load.dipIds.includes(afterId) && !load.dipIds.includes(dip.id)) return [];
    const holds = (dipId: string) => (one: BoardLoad) => one.dipIds.includes(dipId);
    const first = load.dipIds.includes(afterId) ? load : others.find(holds(afterId));
    const second = load.dipIds.includes(dip.id) ? load : others.find(holds(dip.id));
    if (!first || !second || second.startsAtMs >= first.endsAtMs) return [];
    return [{ kind: "ORDER", afterDipId: afterId, untilMs: first.endsAtMs }];
  });
}
