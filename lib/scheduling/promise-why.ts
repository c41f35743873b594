import type { Board, BoardLoad } from "./board";
import type { Span } from "./calendar";
import type { HeldBack, Obstacle, WaitsForPull } from "./promise-types";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;
/** Currents are compared with this much room, A: sums of what was booked to the full are full, not over. */
const ROOM_A = 1e-6;

/** What holds a tank, whether it is a load or not. */
type Occupant = Span & {
  readonly id: string;
  readonly tankId: string;
  readonly supplyId: string | undefined;
  readonly currentA: number;
  readonly attended: readonly Span[];
};

/** Where a dip was put, and what it had to wait for beside the shop. */
export type PlacedDip = {
  readonly load: BoardLoad;
  readonly releaseMs: number;
  /** the other end, and when it is out */
  readonly other: { readonly dipId: string; readonly outMs: number } | null;
};

/** What explains a start on one board. */
export type Explainer = {
  readonly heldBack: (placed: PlacedDip) => readonly HeldBack[];
  readonly waitsForPull: (load: BoardLoad) => WaitsForPull | null;
};

/**
 * Explains starts by going from now to the start: at each instant the first obstacle is looked for, and told together
 * with how long it lasts; then on from there. Every start in between is thereby shown to be impossible.
 *
 * @param outMs of the load that a start would make: when it would be out of the tank; null when it never would
 */
export function explainer(
  board: Board,
  loads: readonly BoardLoad[],
  outMs: (like: BoardLoad, startsAtMs: number) => number | null,
): Explainer {
  const supplyOf = new Map(board.tanks.map(({ id, supplyId }) => [id, supplyId]));
  const occupants: Occupant[] = [
    ...loads.map((load) => occupantOf(load, board)),
    ...board.held.map((held) => ({ ...held, supplyId: supplyOf.get(held.tankId) })),
  ].sort((a, b) => a.fromMs - b.fromMs);
  const shop = { board, occupants, outMs };
  return {
    heldBack: (placed) => heldBack(shop, placed),
    waitsForPull: (load) => waitsForPull(board, load),
  };
}

type Shop = {
  readonly board: Board;
  readonly occupants: readonly Occupant[];
  readonly outMs: (like: BoardLoad, startsAtMs: number) => number | null;
};
/** An obstacle and the instant from which on it is none any more. */
type Until = { readonly obstacle: Obstacle; readonly untilMs: number };

function occupantOf(load: BoardLoad, board: Board): Occupant {
  return {
    id: load.id,
    tankId: load.tankId,
    supplyId: board.tanks.find(({ id }) => id === load.tankId)?.supplyId,
    currentA: load.needs.currentA,
    fromMs: load.startsAtMs,
    untilMs: load.endsAtMs,
    attended: [
      { fromMs: load.startsAtMs, untilMs: load.startsAtMs + board.loadMinutes * MS_PER_MINUTE },
      { fromMs: load.pullAtMs, untilMs: load.benchUntilMs },
    ],
  };
}

function heldBack(shop: Shop, placed: PlacedDip): readonly HeldBack[] {
  const { stepMs } = shop.board;
  const found: HeldBack[] = [];
  let atMs = onStep(shop.board.nowMs, stepMs);
  while (atMs < placed.load.startsAtMs) {
    const next = obstacleAt(shop, placed, atMs);
    // An engine that passes over a start that nothing stands against has a fault, which is better seen than hidden.
    if (!next) break;
    const untilMs = Math.min(
      placed.load.startsAtMs,
      Math.max(atMs + stepMs, onStep(next.untilMs, stepMs)),
    );
    found.push({ ...next.obstacle, fromMs: atMs, untilMs });
    atMs = untilMs;
  }
  return found;
}

const onStep = (ms: number, stepMs: number): number => Math.ceil(ms / stepMs) * stepMs;

function obstacleAt(shop: Shop, placed: PlacedDip, atMs: number): Until | null {
  if (atMs < placed.releaseMs) return { obstacle: { kind: "RELEASE" }, untilMs: placed.releaseMs };
  const { other, load } = placed;
  if (other && atMs < other.outMs) {
    return { obstacle: { kind: "OTHER_END", dipId: other.dipId }, untilMs: other.outMs };
  }
  const { tankId } = load;
  const busy = shop.occupants.find((one) => one.tankId === tankId && covers(one, atMs));
  if (busy) return { obstacle: { kind: "TANK_BUSY", tankId, byId: busy.id }, untilMs: busy.untilMs };
  const loadedMs = atMs + shop.board.loadMinutes * MS_PER_MINUTE;
  return (
    shutAt(shop.board, atMs, loadedMs) ??
    handsTakenIn(shop, atMs, loadedMs) ??
    gapAt(shop, load, atMs) ??
    supplyFullAt(shop, load, atMs)
  );
}

function shutAt({ openings, horizonMs }: Board, atMs: number, loadedMs: number): Until | null {
  if (openings.some((one) => one.fromMs <= atMs && loadedMs <= one.untilMs)) return null;
  const next = openings.find((one) => one.fromMs > atMs);
  return { obstacle: { kind: "SHUT" }, untilMs: next?.fromMs ?? horizonMs };
}

/** The first stretch within loading in which every pair of hands is taken. */
function handsTakenIn({ board, occupants }: Shop, atMs: number, loadedMs: number): Until | null {
  const tasks = occupants.flatMap(({ id, attended }) =>
    attended
      .filter((span) => span.fromMs < loadedMs && atMs < span.untilMs)
      .map((span) => ({ ...span, id })),
  );
  for (const { fromMs } of tasks) {
    const from = Math.max(atMs, fromMs);
    const then = tasks.filter((task) => covers(task, from));
    if (then.length < board.hands) continue;
    return {
      obstacle: { kind: "HANDS_TAKEN", byIds: then.map(({ id }) => id) },
      untilMs: Math.min(...then.map(({ untilMs }) => untilMs)),
    };
  }
  return null;
}

function gapAt(shop: Shop, load: BoardLoad, atMs: number): Until | null {
  const { tankId } = load;
  const next = shop.occupants.find((one) => one.tankId === tankId && one.fromMs >= atMs);
  const limitMs = next?.fromMs ?? Number.POSITIVE_INFINITY;
  const outMs = shop.outMs(load, atMs) ?? Number.POSITIVE_INFINITY;
  if (!next || outMs <= limitMs) return null;
  return {
    obstacle: {
      kind: "GAP_TOO_SHORT",
      tankId,
      nextId: next.id,
      shortHours: (outMs - limitMs) / MS_PER_HOUR,
    },
    untilMs: limitMs,
  };
}

/** The first stretch of the treatment in which the supply has too little left. */
function supplyFullAt(shop: Shop, load: BoardLoad, atMs: number): Until | null {
  const { board, occupants } = shop;
  const supplyId = board.tanks.find(({ id }) => id === load.tankId)?.supplyId;
  const supply = board.supplies.find(({ id }) => id === supplyId);
  const outMs = shop.outMs(load, atMs);
  if (!supply || outMs === null) return null;
  const drawing = occupants.filter(
    (one) =>
      one.supplyId === supply.id &&
      one.currentA > 0 &&
      one.fromMs < outMs &&
      atMs < one.untilMs,
  );
  for (const { fromMs } of drawing) {
    const from = Math.max(atMs, fromMs);
    const then = drawing.filter((one) => covers(one, from));
    const shortA =
      then.reduce((sum, { currentA }) => sum + currentA, 0) + load.needs.currentA - supply.ratingA;
    if (shortA <= ROOM_A) continue;
    return {
      obstacle: {
        kind: "SUPPLY_FULL",
        supplyId: supply.id,
        byIds: then.map(({ id }) => id),
        shortA,
      },
      untilMs: Math.min(...then.map(({ untilMs }) => untilMs)),
    };
  }
  return null;
}

function waitsForPull(board: Board, load: BoardLoad): WaitsForPull | null {
  const treatedMs = onStep(
    load.startsAtMs + board.loadMinutes * MS_PER_MINUTE + load.needs.hours * MS_PER_HOUR,
    board.stepMs,
  );
  const waitedMs = load.pullAtMs - treatedMs;
  if (waitedMs <= 0) return null;
  const lastsMs = load.benchUntilMs - load.pullAtMs;
  const staffed = board.openings.some(
    (one) => Math.max(one.fromMs, treatedMs) + lastsMs <= one.untilMs && covers(one, treatedMs),
  );
  return { hours: waitedMs / MS_PER_HOUR, because: staffed ? "HANDS_TAKEN" : "SHUT" };
}

const covers = (span: Span, atMs: number): boolean => span.fromMs <= atMs && atMs < span.untilMs;
