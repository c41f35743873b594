import type { Board, BoardLoad } from "./board";
import type { Span } from "./calendar";
import {
  covers,
  inAmperes,
  inMilliamperes,
  type Occupant,
  occupantMaker,
  overlaps,
  ratedMilliamperes,
} from "./occupants";
import { Ground } from "./promise-ground";
import type { HeldBack, NewPart, Obstacle, WaitsForPull } from "./promise-types";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;
/** A tank that is always free and hangs on no supply: what a load in it waits for is people. */
const FREE_TANK = { id: "a tank that is always free", supplyId: "without end" };

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
 * @param loads what is booked, and of the part what goes in before
 */
export function explainer(board: Board, loads: readonly BoardLoad[], part: NewPart): Explainer {
  const ground = new Ground({ ...board, tanks: [...board.tanks, FREE_TANK] }, loads, part);
  const { ofLoad, held } = occupantMaker(ground.board);
  const occupants = [...loads.map(ofLoad), ...held].sort((a, b) => a.fromMs - b.fromMs);
  const tasks = occupants.flatMap(({ id, attended }) => attended.map((span) => ({ ...span, id })));
  const shop = { board, occupants, tasks, ground };
  return {
    heldBack: (placed) => heldBack(shop, placed),
    waitsForPull: (load) => waitsForPull(board, load),
  };
}

type Shop = {
  readonly board: Board;
  readonly occupants: readonly Occupant[];
  /** what keeps a pair of hands, and for whom */
  readonly tasks: readonly (Span & { readonly id: string })[];
  readonly ground: Ground;
};
/** An obstacle and the instant from which on it is none any more. */
type Until = { readonly obstacle: Obstacle; readonly untilMs: number };

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
  if (busy)
    return { obstacle: { kind: "TANK_BUSY", tankId, byId: busy.id }, untilMs: busy.untilMs };
  const loadedMs = atMs + shop.board.loadMinutes * MS_PER_MINUTE;
  const outMs = shop.ground.slotAt(load.needs, FREE_TANK.id, load.dipIds, atMs)?.endsAtMs ?? null;
  return (
    shutAt(shop.board, atMs, loadedMs) ??
    handsTakenIn(shop, atMs, loadedMs) ??
    (outMs === null
      ? null
      : (gapAt(shop, load, atMs, outMs) ?? supplyFullAt(shop, load, atMs, outMs)))
  );
}

function shutAt({ openings, horizonMs }: Board, atMs: number, loadedMs: number): Until | null {
  if (openings.some((one) => one.fromMs <= atMs && loadedMs <= one.untilMs)) return null;
  const next = openings.find((one) => one.fromMs > atMs);
  return { obstacle: { kind: "SHUT" }, untilMs: next?.fromMs ?? horizonMs };
}

/** The first stretch within loading in which every pair of hands is taken. */
function handsTakenIn(
  { board, tasks: allTasks }: Shop,
  atMs: number,
  loadedMs: number,
): Until | null {
  const tasks = allTasks.filter((task) => task.fromMs < loadedMs && atMs < task.untilMs);
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

function gapAt(shop: Shop, { tankId }: BoardLoad, atMs: number, outMs: number): Until | null {
  const next = shop.occupants.find((one) => one.tankId === tankId && one.fromMs >= atMs);
  if (!next || outMs <= next.fromMs) return null;
  const shortHours = (outMs - next.fromMs) / MS_PER_HOUR;
  return {
    obstacle: { kind: "GAP_TOO_SHORT", tankId, nextId: next.id, shortHours },
    untilMs: next.fromMs,
  };
}

/** The first stretch of the treatment in which the supply has too little left. */
function supplyFullAt(shop: Shop, load: BoardLoad, atMs: number, outMs: number): Until | null {
  const { board, occupants } = shop;
  const supplyId = board.tanks.find(({ id }) => id === load.tankId)?.supplyId;
  const supply = board.supplies.find(({ id }) => id === supplyId);
  if (!supply) return null;
  const own = { fromMs: atMs, untilMs: outMs };
  const drawing = occupants.filter(
    (one) => one.supplyId === supply.id && one.milliamperes > 0 && overlaps(one, own),
  );
  for (const { fromMs } of drawing) {
    const from = Math.max(atMs, fromMs);
    const then = drawing.filter((one) => covers(one, from));
    const short =
      then.reduce((sum, one) => sum + one.milliamperes, inMilliamperes(load.needs.currentA)) -
      ratedMilliamperes(supply.ratingA);
    if (short <= 0) continue;
    return {
      obstacle: {
        kind: "SUPPLY_FULL",
        supplyId: supply.id,
        byIds: then.map(({ id }) => id),
        shortA: inAmperes(short),
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
