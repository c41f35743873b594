import type { BoardRunRow, BookablePart } from "@/lib/data";
import { continuousRating } from "@/lib/electrolysis";
import type {
  Board,
  BoardDip,
  BoardJob,
  BoardLoad,
  BoardSupply,
  BoardTank,
  Held,
  TankNeeds,
} from "@/lib/scheduling";
import { endOfDay } from "../calendar";
import type { PlanInLoad } from "../runs/needs";
import { heldUntilMs } from "../runs/time";
import { electricSupply } from "../tanks";
import type { ShopBoard } from "./board-rows";
import type { DipToShare } from "./share";

const MINUTE_MS = 60_000;
/** Starts and pulls lie on multiples of it where the board is searched. */
export const SEARCH_STEP_MS = 15 * MINUTE_MS;
/** An hour of a rush job being late weighs as much as so many of another: assumption. */
export const RUSH_WEIGHT = 3;

/** A plan in one tank, as far as loads go. */
export type PlanInTank = PlanInLoad & { readonly saltGrade: string };

/** A dip that may be planned: booked and movable, or waiting. */
export type OpenDip = DipToShare & {
  readonly jobId: string;
  /** the run it is booked in; null for one that waits */
  readonly runId: string | null;
  /** the end that goes in before it and is open too */
  readonly afterId: string | null;
  /** when the end that is booked already is out, epoch ms; 0 for none */
  readonly releaseMs: number;
  /** of its plan: the tank it is planned for now */
  readonly plannedTankId: string;
};

/** A board to be solved, as plain data but for its sharing, which is made from `toShare`: a thread can be given it. */
export type Problem = {
  readonly board: Omit<Board, "share">;
  readonly loads: readonly BoardLoad[];
  readonly dips: readonly OpenDip[];
};

/** Whether a booked run may be moved when the board is improved: not loaded, not fixed, not late, in a tank with room. */
export function isMovable(run: BoardRunRow, { now, tight }: ShopBoard): boolean {
  return (
    run.state === "PLANNED" &&
    !run.fixed &&
    run.startsAt >= now &&
    run.supplyId !== null &&
    !tight.has(run.tankId) &&
    // A part that goes in end for end keeps its two bookings in their order: by hand they are moved.
    run.dips.every(({ plan }) => plan.dipCount === 1)
  );
}

/** The dips that are open, each with its plan in the tank that it is planned for. */
export function openDips(shop: ShopBoard, waiting: readonly BookablePart[]): readonly OpenDip[] {
  const booked = shop.runs
    .filter((run) => isMovable(run, shop))
    .flatMap((run) => run.dips.flatMap((dip) => bookedDip(run, dip, shop)));
  return [...booked, ...waiting.flatMap(waitingDips)];
}

function bookedDip(
  run: BoardRunRow,
  { id, end, part, plan }: BoardRunRow["dips"][number],
  shop: ShopBoard,
): OpenDip[] {
  const core = shop.plans.get(plan.id);
  if (!core) return [];
  return [
    {
      id,
      end,
      goal: part.goal,
      part,
      jobId: part.job.id,
      runId: run.id,
      afterId: null,
      releaseMs: 0,
      plannedTankId: run.tankId,
      plans: new Map([[run.tankId, core]]),
    },
  ];
}

/** Both ends of a part that goes in end for end, the second after the first. */
export function waitingDips(part: BookablePart): OpenDip[] {
  const { plan } = part;
  if (!plan) return [];
  const taken = new Set([...part.endsDone, ...part.endsBooked.map(({ end }) => end)]);
  const ends = Array.from({ length: plan.dipCount }, (_, at) => at + 1).filter(
    (end) => !taken.has(end),
  );
  return ends.map((end, at) => ({
    id: dipIdOf(part.id, end),
    end,
    goal: part.goal,
    part,
    jobId: part.job.id,
    runId: null,
    afterId: at > 0 ? dipIdOf(part.id, ends[at - 1] ?? 0) : null,
    releaseMs: Math.max(0, ...part.endsBooked.map(({ endsAt }) => endsAt.getTime())),
    plannedTankId: plan.tankId,
    plans: new Map<string, PlanInTank>([[plan.tankId, plan]]),
  }));
}

const dipIdOf = (partId: string, end: number): string => `${partId}:${end}`;

/** Puts the shop's board as a problem: what is open is planned, the rest holds its place. */
export function problemOf(
  shop: ShopBoard,
  dips: readonly OpenDip[],
  needsAlone: (dip: OpenDip, tankId: string) => TankNeeds | null,
): Problem {
  const movable = shop.runs.filter((run) => isMovable(run, shop));
  const heldRuns = shop.runs.filter((run) => !isMovable(run, shop));
  const boardDips = dips.flatMap((dip) => boardDip(shop, dip, needsAlone));
  const known = new Set(boardDips.map(({ id }) => id));
  const { bench } = shop;
  return {
    dips,
    loads: movable.map((run) => loadOfRun(run, bench.pullMinutes)),
    board: {
      nowMs: Math.ceil(shop.now.getTime() / SEARCH_STEP_MS) * SEARCH_STEP_MS,
      horizonMs: shop.horizonMs,
      stepMs: SEARCH_STEP_MS,
      openings: shop.openings,
      loadMinutes: bench.loadMinutes,
      pullMinutes: bench.pullMinutes,
      hands: bench.hands,
      tanks: tanksOf(shop),
      supplies: suppliesOf(shop),
      held: [...heldRuns.flatMap((run) => heldRun(run, shop)), ...heldWork(shop)],
      jobs: jobsOf(shop, dips, heldRuns),
      dips: boardDips.map((dip) => ({
        ...dip,
        afterId: dip.afterId && known.has(dip.afterId) ? dip.afterId : null,
      })),
    },
  };
}

function boardDip(
  shop: ShopBoard,
  dip: OpenDip,
  needsAlone: (dip: OpenDip, tankId: string) => TankNeeds | null,
): BoardDip[] {
  const tanks = new Map<string, TankNeeds>();
  for (const tankId of dip.plans.keys()) {
    // What waits is not put where bath or anode bear no more.
    const needs = shop.tight.has(tankId) ? null : needsAlone(dip, tankId);
    if (needs) tanks.set(tankId, needs);
  }
  if (tanks.size === 0) return [];
  const { id, jobId, afterId } = dip;
  const releaseMs = Math.max(shop.now.getTime(), dip.releaseMs);
  return [{ id, jobId, releaseMs, afterId, tanks, benchMinutes: benchMinutesOfDip(shop, dip) }];
}

/** Only the last end of a part is finished. */
function benchMinutesOfDip({ bench }: ShopBoard, dip: OpenDip): number {
  const plan = dip.plans.get(dip.plannedTankId);
  if (!plan || dip.end < plan.dipCount) return 0;
  return bench.finishMinutesPerM2 * plan.areaM2 * dip.part.quantity;
}

function loadOfRun(run: BoardRunRow, pullMinutes: number): BoardLoad {
  const endsAtMs = run.endsAt.getTime();
  return {
    id: run.id,
    dipIds: run.dips.map(({ id }) => id),
    tankId: run.tankId,
    needs: { hours: run.treatHours, currentA: run.expectedCurrentA },
    startsAtMs: run.startsAt.getTime(),
    pullAtMs: endsAtMs - pullMinutes * MINUTE_MS,
    endsAtMs,
    benchUntilMs: endsAtMs + run.benchMinutes * MINUTE_MS,
  };
}

const tanksOf = ({ tanks }: ShopBoard): BoardTank[] =>
  tanks.flatMap(({ id, supplyId }) => (supplyId ? [{ id, supplyId }] : []));

function suppliesOf({ tanks }: ShopBoard): BoardSupply[] {
  const supplies = new Map<string, BoardSupply>();
  for (const { supply } of tanks) {
    if (!supply) continue;
    supplies.set(supply.id, { id: supply.id, ratingA: continuousRating(electricSupply(supply)) });
  }
  return [...supplies.values()];
}

/** A run that stays: until its booked end, or for a while yet where it should be out; hands at both ends. */
function heldRun(run: BoardRunRow, { now, bench }: ShopBoard): Held[] {
  const pulledMs = run.pulledAt?.getTime() ?? now.getTime();
  const fromMs = run.startsAt.getTime();
  if (run.state === "PULLED") {
    const untilMs = pulledMs + run.benchMinutes * MINUTE_MS;
    if (untilMs <= now.getTime()) return [];
    const attended = [{ fromMs: pulledMs, untilMs }];
    return [{ id: run.id, tankId: "", currentA: 0, fromMs: pulledMs, untilMs: pulledMs, attended }];
  }
  const untilMs = heldUntilMs(run, now);
  const benchUntilMs = untilMs + run.benchMinutes * MINUTE_MS;
  const attended = [
    ...(run.state === "PLANNED"
      ? [{ fromMs, untilMs: fromMs + bench.loadMinutes * MINUTE_MS }]
      : []),
    { fromMs: untilMs - bench.pullMinutes * MINUTE_MS, untilMs: benchUntilMs },
  ];
  return [
    { id: run.id, tankId: run.tankId, currentA: run.expectedCurrentA, fromMs, untilMs, attended },
  ];
}

/** Changes of bath and anode need hands; a tank that is out of order needs none. */
const heldWork = ({ holds }: ShopBoard): Held[] =>
  holds.map(({ id, tankId, kind, startsAt, endsAt }) => {
    const span = { fromMs: startsAt.getTime(), untilMs: endsAt.getTime() };
    const attended = kind === "MAINTENANCE" ? [] : [span];
    return { id, tankId, currentA: 0, ...span, attended };
  });

function jobsOf(
  shop: ShopBoard,
  dips: readonly OpenDip[],
  heldRuns: readonly BoardRunRow[],
): BoardJob[] {
  const known = new Map<string, { promisedFor: Date | null; rush: boolean }>();
  for (const run of shop.runs) for (const { part } of run.dips) known.set(part.job.id, part.job);
  for (const { job } of shop.waiting) known.set(job.id, job);
  return [...new Set(dips.map(({ jobId }) => jobId))].map((id) => {
    const job = known.get(id);
    const held = heldRuns
      .filter((run) => run.dips.some(({ part }) => part.job.id === id))
      .map((run) => run.endsAt.getTime() + run.benchMinutes * MINUTE_MS);
    return {
      id,
      dueMs: job?.promisedFor ? endOfDay(job.promisedFor, shop.calendar.timeZone).getTime() : null,
      weight: job?.rush ? RUSH_WEIGHT : 1,
      heldUntilMs: held.length > 0 ? Math.max(...held) : null,
    };
  });
}
