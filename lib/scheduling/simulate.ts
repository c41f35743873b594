import { checkRange } from "@/lib/units";
import { changedBoard, twinId } from "./change";
import type { Board } from "./board";
import { ArrivalBook } from "./simulate-arrivals";
import { Chance, checkSpread } from "./simulate-chance";
import { JobBook, meanOfPlays } from "./simulate-jobs";
import { Play } from "./simulate-play";
import { ResourceBook } from "./simulate-resources";
import { bookedLoads, dealtLoads, playedShop, queuesOf } from "./simulate-shop";
import type { Simulation, SimulatedWeeks, WhatIf } from "./simulate-types";

const TIMES = 1000;
const MOST_TIMES = 100_000;
/** Plays between two reports of progress. */
const REPORT_EVERY = 10;
/** Chance is split into streams, so that arrivals do not shift the hours of what is booked. */
const STREAM = { HOURS: 1, ARRIVALS: 2 } as const;

/**
 * Plays the weeks ahead many times over with random true hours, and counts what comes of it.
 *
 * - A load begins in the order booked for its tank, not before its booked start, once the tank is free, the other end
 *   is out, the supply has room for it, and somebody is there and free for as long as loading takes.
 * - Its hours are drawn from the log-normal distribution through its P50 and P90. It stays in until it is done, however
 *   long it was booked; it comes out when somebody is free to pull and finish it within one opening, not before the
 *   booked pull unless `pullWhenDone`.
 * - What is held (a bath change, maintenance) lasts as booked and keeps its hands at the booked times. A held load with
 *   a spread is played like the rest; one that runs already may be done without anybody having looked.
 * - A tank that the shop would have more serves the same queue as the tank it is like.
 * - Jobs that arrive are booked into the first free slots of the plan as it then stands, and played like the rest.
 *
 * Nobody plans anew during a play: the plan is taken as it is, which makes a shop that does plan anew somewhat better
 * than told here. The same seed gives the same answer on every machine.
 *
 * @param onProgress is told the share done, 0 to 1, every ten plays; what it throws ends the simulation
 * @throws RangeError when a spread, the number of plays, the end or an arrival's part makes no sense
 * @example simulateWeeks({ board, loads, spreads, seed: 1, untilMs }).bottleneck
 */
export function simulateWeeks(
  simulation: Simulation,
  onProgress?: (share: number) => void,
): SimulatedWeeks {
  const plays = simulatingWeeks(simulation);
  for (;;) {
    const next = plays.next();
    if (next.done) return next.value;
    onProgress?.(next.value);
  }
}

/**
 * The same a few plays at a time, for who has other things to do in between: yields the share done, and may be left
 * at any time.
 */
export function* simulatingWeeks(simulation: Simulation): Generator<number, SimulatedWeeks> {
  const times = simulation.times ?? TIMES;
  checkSimulation(simulation, times);
  const { board, likeOf } = changedShop(simulation);
  const queueOf = queuesOf(
    board.tanks.map(({ id }) => id),
    likeOf,
  );
  const shop = playedShop(board, queueOf, simulation);
  const booked = bookedLoads(board, simulation.loads, simulation.spreads, queueOf);
  const jobs = new JobBook(board, simulation, times);
  const resources = new ResourceBook(board, shop, times);
  const arrivals = simulation.arrivals
    ? new ArrivalBook(board, simulation.loads, simulation.arrivals, likeOf, queueOf)
    : null;
  for (let play = 0; play < times; play += 1) {
    const hours = new Chance(simulation.seed, play, STREAM.HOURS);
    const dealt = booked.map((load) => ({ load, deviate: hours.normal() }));
    const arrived = arrivals?.deal(
      new Chance(simulation.seed, play, STREAM.ARRIVALS),
      simulation.untilMs,
    );
    const loads = dealtLoads(arrived ? [...dealt, ...arrived] : dealt);
    const played = new Play(shop, [...loads.values()]);
    played.run();
    jobs.note(play, loads);
    resources.note(play, played.tally);
    arrivals?.note(loads);
    if ((play + 1) % REPORT_EVERY === 0) yield (play + 1) / times;
  }
  return resultsOf(times, jobs, resources, arrivals);
}

/**
 * The same plays in a shop that has something more: the same hours and the same arrivals (common random numbers), so
 * that what differs is what was added, and few plays tell.
 *
 * @param asItIs what `simulateWeeks` said of the same simulation without `changes`
 * @throws RangeError as `simulateWeeks`, and when a change names a tank that is none of the board's
 * @example whatIf(simulation, simulateWeeks(simulation), [{ kind: "HANDS" }]).kept
 */
export function whatIf(
  simulation: Simulation,
  asItIs: SimulatedWeeks,
  changes: NonNullable<Simulation["changes"]>,
  onProgress?: (share: number) => void,
): WhatIf {
  const changed = simulateWeeks({ ...simulation, times: asItIs.times, changes }, onProgress);
  const before = new Map(asItIs.jobs.map(({ jobId, kept }) => [jobId, kept?.share]));
  const jobs = changed.jobs.flatMap(({ jobId, kept }) => {
    const was = before.get(jobId);
    return kept === null || was === undefined || kept.share === was
      ? []
      : [{ jobId, before: was, after: kept.share }];
  });
  return {
    changed,
    kept: meanOfPlays(difference(changed.plays.kept, asItIs.plays.kept)),
    delayHours: meanOfPlays(difference(changed.plays.delayHours, asItIs.plays.delayHours)) ?? NONE,
    jobs: jobs.sort((a, b) => b.after - b.before - (a.after - a.before)),
  };
}

const NONE = { mean: 0, low: 0, high: 0 };

const difference = (of: Float64Array, than: Float64Array): Float64Array =>
  of.map((value, play) => value - (than[play] ?? Number.NaN));

function resultsOf(
  times: number,
  jobs: JobBook,
  resources: ResourceBook,
  arrivals: ArrivalBook | null,
): SimulatedWeeks {
  const all = resources.results();
  const [first] = [...all].sort((a, b) => b.waitedHours - a.waitedHours);
  return {
    times,
    jobs: jobs.results(),
    arrivals: arrivals?.results(times) ?? null,
    kept: meanOfPlays(jobs.kept),
    delayHours: meanOfPlays(resources.delayHours) ?? NONE,
    otherEndHours: resources.otherEndHours(),
    resources: all,
    bottleneck: first && first.waitedHours > 0 ? first : null,
    plays: { kept: jobs.kept, delayHours: resources.delayHours },
  };
}

/** The board with all changes made, and which tank each new one is like. */
function changedShop({ board: asItIs, changes = [] }: Simulation): {
  readonly board: Board;
  readonly likeOf: ReadonlyMap<string, string>;
} {
  const likeOf = new Map<string, string>();
  let board = asItIs;
  for (const change of changes) {
    const changed = changedBoard(board, change);
    if (change.kind === "TANK") likeOf.set(twinId(board, change.likeTankId), change.likeTankId);
    board = changed;
  }
  return { board, likeOf };
}

function checkSimulation({ board, spreads, untilMs }: Simulation, times: number): void {
  checkRange("number of plays", times, 1, MOST_TIMES, "");
  checkRange("end of the plays", untilMs, board.nowMs + 1, Number.MAX_SAFE_INTEGER, "epoch ms");
  for (const [id, spread] of spreads) checkSpread(`load ${id}`, spread);
}
