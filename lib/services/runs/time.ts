import {
  type Db,
  listHolds,
  listLiveRuns,
  listLiveRunsOfSupply,
  type LiveRun,
  type TankRow,
} from "@/lib/data";
import { continuousRating } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import {
  clashWith,
  openingsBetween,
  type ShopCalendar,
  type Slot,
  slotAt,
  type Span,
  supplyFull,
} from "@/lib/scheduling";
import { electricSupply } from "../tanks";
import { type BenchTimes, benchTimes, workingHours } from "../working-hours";
import { benchMinutesOf, type LoadPlan } from "./needs";

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const DAY_MS = 86_400_000;
/** How far ahead a slot is looked for. */
export const HORIZON_DAYS = 42;
/** A load that should be out still holds its tank; it is taken to come out within this. */
const OVERDUE_MS = 30 * MINUTE_MS;
/** Later than anything that is booked. */
const FAR = new Date(Date.UTC(9999, 0));

/** Everything that tells when a load can go in and come out. */
export type Timing = {
  readonly calendar: ShopCalendar;
  readonly openings: readonly Span[];
  readonly bench: BenchTimes;
};

/** Opening hours from `from` to the horizon, and how long loading and pulling take. */
export async function timing(db: Db, from: Date, now: Date): Promise<Timing> {
  const calendar = await workingHours(db, now);
  const bench = await benchTimes(db, calendar.timeZone, now);
  const untilMs = from.getTime() + 2 * HORIZON_DAYS * DAY_MS;
  return { calendar, bench, openings: openingsBetween(calendar, from.getTime(), untilMs) };
}

/** Until when a planned or running load holds its tank and its supply. */
export const heldUntilMs = (run: Pick<LiveRun, "state" | "endsAt">, now: Date): number =>
  run.state === "RUNNING"
    ? Math.max(run.endsAt.getTime(), now.getTime() + OVERDUE_MS)
    : run.endsAt.getTime();

/** When a tank is taken: by planned and running loads, and by other work on it. */
export async function busySpans(
  db: Db,
  tankId: string,
  now: Date,
  exceptRunId?: string,
): Promise<readonly Span[]> {
  const runs = await listLiveRuns(db, tankId);
  const span = { from: new Date(now.getTime() - DAY_MS), until: FAR };
  const holds = (await listHolds(db, span, { tankId })).filter(({ state }) => state === "PLANNED");
  const loads = runs
    .filter((run) => run.id !== exceptRunId)
    .map((run) => ({ fromMs: run.startsAt.getTime(), untilMs: heldUntilMs(run, now) }));
  const work = holds.map((hold) => ({
    fromMs: hold.startsAt.getTime(),
    untilMs: hold.endsAt.getTime(),
  }));
  return [...loads, ...work];
}

/** When a tank's supply has no room for a load of so many amperes, for what other tanks draw from it. */
export async function fullSpans(
  db: Db,
  tank: TankRow,
  currentA: number,
  now: Date,
): Promise<readonly Span[]> {
  const { supply } = tank;
  if (!supply) return [];
  const draws = (await listLiveRunsOfSupply(db, supply.id)).map((run) => ({
    fromMs: run.startsAt.getTime(),
    untilMs: heldUntilMs(run, now),
    currentA: run.expectedCurrentA,
  }));
  return supplyFull(draws, continuousRating(electricSupply(supply)), currentA);
}

/**
 * Refuses at once where the tank is taken when loading would begin: of hundreds who want one time, nearly all are told so
 * before their plans are read.
 *
 * @throws Refusal tank-busy
 */
export async function checkStartFree(
  db: Db,
  { tankId, startsAt }: { readonly tankId: string; readonly startsAt: Date },
  now: Date,
): Promise<void> {
  const atMs = startsAt.getTime();
  const busy = await busySpans(db, tankId, now);
  if (busy.some(({ fromMs, untilMs }) => fromMs <= atMs && atMs < untilMs)) throw tankBusy();
}

const tankBusy = (): Refusal =>
  new Refusal(
    "tank-busy",
    "That tank is already booked in this time. Choose another time or another tank.",
  );

export type ChosenTime = {
  readonly tankId: string;
  readonly startsAt: Date;
  /** how long the tank is to be held; as long as the load needs when left out */
  readonly endsAt?: Date | undefined;
  readonly load: Pick<LoadPlan, "hours" | "finishAreaM2">;
  readonly exceptRunId?: string;
  /** one of several changes made together: what they leave in the way is looked for by the database, at their end */
  readonly together?: boolean | undefined;
};

export type ChosenSlot = Slot & {
  /** hands needed at once after the pull */
  readonly benchMinutes: number;
};

/**
 * The slot that a chosen start makes in a tank.
 *
 * What is refused here is what a person can see at once; that two callers do not both get the tank is the exclusion
 * constraint's to decide, when the booking is written.
 *
 * @throws Refusal invalid (past, nobody there, or too short) | tank-busy
 */
export async function chosenSlot(db: Db, choice: ChosenTime, now: Date): Promise<ChosenSlot> {
  const startsAtMs = choice.startsAt.getTime();
  if (startsAtMs < now.getTime() - 5 * MINUTE_MS) {
    throw new Refusal("invalid", "That time is past.", { startsAt: "Choose a later time." });
  }
  const { openings, bench } = await timing(db, new Date(startsAtMs - DAY_MS), now);
  const benchMinutes = benchMinutesOf(choice.load, bench);
  const least = slotAt(startsAtMs, { ...bench, hours: choice.load.hours, benchMinutes, openings });
  if (!least) {
    throw new Refusal("invalid", "Nobody is there to load at that time.", {
      startsAt: `Loading takes ${bench.loadMinutes} min, all of it within the opening hours.`,
    });
  }
  const slot = choice.endsAt
    ? stretched(least, choice.endsAt.getTime(), { openings, pullMinutes: bench.pullMinutes })
    : least;
  if (choice.together) return { ...slot, benchMinutes };
  const clash = clashWith(slot, await busySpans(db, choice.tankId, now, choice.exceptRunId));
  if (clash) throw tankBusy();
  return { ...slot, benchMinutes };
}

/** The slot held until another end, when somebody is there to pull. @throws Refusal invalid */
function stretched(
  least: Slot,
  endsAtMs: number,
  { openings, pullMinutes }: { readonly openings: readonly Span[]; readonly pullMinutes: number },
): Slot {
  const pullAtMs = endsAtMs - pullMinutes * MINUTE_MS;
  const shortH = (least.treatedAtMs - pullAtMs) / HOUR_MS;
  if (shortH > 1e-6) {
    const hours = shortH < 0.1 ? "a few minutes" : `${shortH.toFixed(1)} h`;
    throw new Refusal("invalid", `That is ${hours} too short for what its plans ask.`, {
      endsAt: "Choose a later end.",
    });
  }
  const isThere = openings.some(({ fromMs, untilMs }) => fromMs <= pullAtMs && endsAtMs <= untilMs);
  if (!isThere) {
    throw new Refusal("invalid", "Nobody is there to pull at that time.", {
      endsAt: `Pulling takes ${pullMinutes} min, all of it within the opening hours.`,
    });
  }
  return { ...least, pullAtMs, endsAtMs };
}
