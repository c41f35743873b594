import {
  type Board,
  type BoardDip,
  type BoardJob,
  type BoardLoad,
  buildSchedule,
  openingsBetween,
  type TankNeeds,
} from "@/lib/scheduling";
import { HOUR_MS, MINUTE_MS } from "./board-of";
import { numbersFrom } from "./cut-boxes";

/** Monday, an hour before the shop opens. */
const NOW_MS = Date.parse("2026-11-23T06:00Z");

export type BoardSize = {
  readonly parts: number;
  readonly tanks: number;
  readonly days: number;
  /** tanks that hang on one supply */
  readonly tanksASupply: number;
  readonly stepMinutes: number;
};

export const SMALL: BoardSize = { parts: 8, tanks: 3, days: 12, tanksASupply: 2, stepMinutes: 30 };
export const LARGE: BoardSize = {
  parts: 200,
  tanks: 12,
  days: 49,
  tanksASupply: 3,
  stepMinutes: 15,
};
export const FULL: BoardSize = { ...LARGE, parts: 300, days: 70 };

type Part = { readonly kind: number; readonly size: number };

/**
 * A made-up week of a shop, the same for the same seed: shut at night and on Sundays, tanks that share a supply, parts that come
 * in late, are due or not, are wanted in a rush or not, go in one by one, together, or end for end.
 */
export function shopBoard(size: BoardSize, seed: number): Board {
  const next = numbersFrom(seed);
  const whole = (from: number, to: number): number => from + Math.floor(next() * (to - from + 1));
  const horizonMs = NOW_MS + size.days * 24 * HOUR_MS;
  const tanks = Array.from({ length: size.tanks }, (_, index) => ({
    id: `t${index}`,
    supplyId: `s${Math.floor(index / size.tanksASupply)}`,
  }));
  const rooms = new Map(tanks.map(({ id }) => [id, whole(6, 10)]));
  const parts = new Map<string, Part>();
  const jobs: BoardJob[] = [];
  const dips: BoardDip[] = [];
  const spreadH = (size.parts / size.tanks) * 8;
  for (let index = 0; index < size.parts; index += 1) {
    const part = { kind: whole(0, 3), size: whole(2, 9) };
    const dueDay = whole(1, Math.ceil(spreadH / 16) + 1);
    jobs.push({
      id: `j${index}`,
      dueMs: next() < 0.8 ? NOW_MS + (dueDay * 24 - 7) * HOUR_MS : null,
      weight: next() < 0.2 ? 3 : 1,
      heldUntilMs: null,
    });
    const hours = whole(4, 28) / 2;
    const currentA = whole(6, 24) / 2;
    const ends = next() < 0.12 ? 2 : 1;
    const releaseMs = NOW_MS + (next() < 0.5 ? 0 : whole(0, spreadH)) * HOUR_MS;
    for (let end = 0; end < ends; end += 1) {
      const id = `d${index}.${end}`;
      parts.set(id, part);
      const own = new Map<string, TankNeeds>();
      for (const tank of tanks) {
        if ((rooms.get(tank.id) ?? 0) < part.size) continue;
        const slower = 1 + whole(0, 4) / 10;
        own.set(tank.id, { hours: hours * slower, currentA: currentA / slower });
      }
      const anyTank = tanks[whole(0, size.tanks - 1)]?.id ?? "t0";
      if (own.size === 0) own.set(anyTank, { hours, currentA });
      const afterId = end === 0 ? null : `d${index}.0`;
      const benchMinutes = whole(1, 4) * 10;
      dips.push({ id, jobId: `j${index}`, releaseMs, afterId, tanks: own, benchMinutes });
    }
  }
  const calendar = {
    timeZone: "Europe/Berlin",
    hours: [1, 2, 3, 4, 5, 6].map((weekday) => ({
      weekday,
      opensMinute: 480,
      closesMinute: weekday === 6 ? 780 : 1020,
    })),
    closedDays: [],
  };
  const board: Board = {
    nowMs: NOW_MS,
    horizonMs,
    stepMs: size.stepMinutes * MINUTE_MS,
    openings: openingsBetween(calendar, NOW_MS, horizonMs),
    loadMinutes: 15,
    pullMinutes: 15,
    hands: whole(1, 2) + Math.floor(size.tanks / 5),
    tanks,
    supplies: [...new Set(tanks.map(({ supplyId }) => supplyId))].map((id) => ({
      id,
      ratingA: whole(12, 20) * Math.max(1, size.tanksASupply - 1),
    })),
    held: [],
    jobs,
    dips,
    share: () => null,
  };
  return { ...board, share: sharing(board, parts, rooms) };
}

/** Parts of one kind may share a tank that has room for them: a tenth slower, a little less current each. */
function sharing(
  { dips, tanks, supplies }: Board,
  parts: ReadonlyMap<string, Part>,
  rooms: ReadonlyMap<string, number>,
): Board["share"] {
  const known = new Map(dips.map((dip) => [dip.id, dip]));
  return (tankId, dipIds) => {
    const members = dipIds.flatMap((id) => known.get(id)?.tanks.get(tankId) ?? []);
    const there = dipIds.flatMap((id) => parts.get(id) ?? []);
    const takes = there.reduce((sum, { size }) => sum + size, 0);
    if (members.length !== dipIds.length || takes > (rooms.get(tankId) ?? 0)) return null;
    if (new Set(there.map(({ kind }) => kind)).size !== 1) return null;
    const hours = 1.1 * Math.max(...members.map((needs) => needs.hours));
    const sumA = members.reduce((sum, needs) => sum + needs.currentA, 0);
    const currentA = Math.max(0.9 * sumA, ...members.map((needs) => needs.currentA));
    const supplyId = tanks.find(({ id }) => id === tankId)?.supplyId;
    const ratingA = supplies.find(({ id }) => id === supplyId)?.ratingA ?? 0;
    return currentA > ratingA ? null : { hours, currentA };
  };
}

/** A board whose every dip is booked, by dispatch rules. */
export function bookedBoard(size: BoardSize, seed: number): { board: Board; current: BoardLoad[] } {
  const board = shopBoard(size, seed);
  const { schedule } = buildSchedule(board, []);
  const current = schedule.loads.map((load, index) => ({ ...load, id: `run${index}` }));
  return { board, current };
}
