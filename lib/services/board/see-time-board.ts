import { type Actor, requirePermission } from "@/lib/access";
import {
  type BoardRunRow,
  type ChargeLeft,
  chargesLeft,
  type Db,
  type HoldRow,
  listBoardRuns,
  listClosedDays,
  listHolds,
  listSupplies,
  listTanks,
  reading,
  type SupplyRow,
  type TankRow,
} from "@/lib/data";
import { continuousRating } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { openingsBetween, type ShopCalendar } from "@/lib/scheduling";
import { addDays, dateText, endOfDay, startOfDay } from "../calendar";
import { bathLevel, electricSupply, tankShape } from "../tanks";
import { benchTimes, workingHours } from "../working-hours";
import type { BoardDay, BoardHold, BoardPart, BoardRun, Lane, TimeBoard } from "./time-board-types";

const DAY_MS = 86_400_000;
/** Starts and pulls lie on multiples of it. */
export const BOARD_STEP_MS = 5 * 60_000;
/** A pull after the last day that is shown still finds its opening. */
const OPENINGS_AFTER_DAYS = 28;
/** Longer boards are refused: nothing is booked so far ahead. */
const MOST_DAYS = 62;

/**
 * The tanks over time, from a calendar day on.
 *
 * @param span first day as midnight UTC of its date, and how many days, 1 to 62
 * @throws Refusal not-allowed | invalid
 */
export async function seeTimeBoard(
  actor: Actor,
  span: { readonly firstDay: Date; readonly days: number },
  now: Date,
): Promise<TimeBoard> {
  requirePermission(actor, "see-shop");
  if (!(Number.isInteger(span.days) && span.days >= 1 && span.days <= MOST_DAYS)) {
    throw new Refusal("invalid", `A board shows 1 to ${MOST_DAYS} days, not ${span.days}.`);
  }
  return reading(async (db) => {
    const calendar = await workingHours(db, now);
    const bench = await benchTimes(db, calendar.timeZone, now);
    const days = await daysOf(db, span, calendar);
    const [fromMs, untilMs] = [days[0]?.fromMs ?? 0, days.at(-1)?.untilMs ?? 0];
    const shown = { from: new Date(fromMs), until: new Date(untilMs) };
    const tanks = await listTanks(db);
    const supplies = await listSupplies(db);
    const runs = await listBoardRuns(db, shown);
    const holds = await listHolds(db, shown);
    const charges = new Map((await chargesLeft(db)).map((left) => [left.tankId, left]));
    const lane = (tank: TankRow): Lane =>
      laneOf(tank, { runs, holds, charge: charges.get(tank.id) }, calendar.timeZone);
    return {
      asOfMs: now.getTime(),
      fromMs,
      untilMs,
      timeZone: calendar.timeZone,
      days,
      openings: openingsBetween(calendar, fromMs, untilMs + OPENINGS_AFTER_DAYS * DAY_MS),
      stepMs: BOARD_STEP_MS,
      loadMinutes: bench.loadMinutes,
      pullMinutes: bench.pullMinutes,
      hands: bench.hands,
      supplies: supplies.map(supplyOf),
      lanes: tanks.map(lane),
    };
  });
}

async function daysOf(
  db: Db,
  { firstDay, days }: { readonly firstDay: Date; readonly days: number },
  calendar: ShopCalendar,
): Promise<readonly BoardDay[]> {
  const closed = new Map(
    (await listClosedDays(db, firstDay)).map(({ day, reason }) => [dateText(day), reason]),
  );
  return Array.from({ length: days }, (_, index) => {
    const day = dateText(addDays(firstDay, index));
    const fromMs = startOfDay(addDays(firstDay, index), calendar.timeZone).getTime();
    const untilMs = endOfDay(addDays(firstDay, index), calendar.timeZone).getTime();
    const open = openingsBetween(calendar, fromMs, untilMs).length > 0;
    return { day, fromMs, untilMs, closed: open ? null : (closed.get(day) ?? "") };
  });
}

const supplyOf = (supply: SupplyRow): TimeBoard["supplies"][number] => ({
  id: supply.id,
  name: supply.name,
  ratingA: continuousRating(electricSupply(supply)),
});

type OnTanks = {
  readonly runs: readonly BoardRunRow[];
  readonly holds: readonly HoldRow[];
  readonly charge: ChargeLeft | undefined;
};

function laneOf(tank: TankRow, { runs, holds, charge }: OnTanks, timeZone: string): Lane {
  const own = runs.filter(({ tankId }) => tankId === tank.id);
  const running = own.some(({ state }) => state === "RUNNING");
  return {
    tankId: tank.id,
    name: tank.name,
    place: tank.place,
    supplyId: tank.supplyId,
    shape: tankShape(tank),
    state: running ? "bubbling" : tank.bath ? "still" : "drained",
    levelMm: tank.bath ? bathLevel(tank, tank.bath.volumeL) : 0,
    lacks: [
      ...(tank.bath ? [] : ["no bath"]),
      ...(tank.anodes.length > 0 ? [] : ["no anode"]),
      ...(tank.supply ? [] : ["no supply"]),
    ],
    anodeLeftAh: charge?.anodeAh ?? null,
    bathLeftAh: charge?.bathAh ?? null,
    runs: own.map((run) => boardRun(run, timeZone)),
    holds: holds.filter(({ tankId }) => tankId === tank.id).map(boardHold),
  };
}

/** A run as the board shows it. */
export function boardRun(run: BoardRunRow, timeZone: string): BoardRun {
  const endsAt = run.pulledAt && run.pulledAt < run.endsAt ? run.pulledAt : run.endsAt;
  return {
    id: run.id,
    number: run.number,
    state: run.state,
    startsAtMs: run.startsAt.getTime(),
    endsAtMs: Math.max(endsAt.getTime(), run.startsAt.getTime()),
    treatHours: run.treatHours,
    benchMinutes: run.benchMinutes,
    currentA: run.expectedCurrentA,
    chargeAh: run.targetChargeAh,
    fixed: run.fixed,
    sequence: run.sequence,
    assignedTo: run.assignedTo,
    parts: run.dips.map((dip) => boardPart(dip, timeZone)),
  };
}

function boardPart({ id, end, part, plan }: BoardRunRow["dips"][number], zone: string): BoardPart {
  const { job } = part;
  return {
    dipId: id,
    partId: part.id,
    mark: part.mark,
    description: part.description,
    quantity: part.quantity,
    jobId: job.id,
    jobNumber: job.number,
    rush: job.rush,
    dueMs: job.promisedFor && endOfDay(job.promisedFor, zone).getTime(),
    end,
    ends: plan.dipCount,
  };
}

const boardHold = (hold: HoldRow): BoardHold => ({
  id: hold.id,
  kind: hold.kind,
  done: hold.state === "DONE",
  startsAtMs: hold.startsAt.getTime(),
  endsAtMs: hold.endsAt.getTime(),
  note: hold.note,
  sequence: hold.sequence,
});
