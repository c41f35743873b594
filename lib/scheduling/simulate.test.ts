import { describe, expect, it } from "vitest";
import { bookedBoard } from "@/test/support/booked-board";
import type { Board, BoardLoad } from "./board";
import type { ShopChange } from "./change";
import { simulateWeeks, simulatingWeeks, whatIf } from "./simulate";
import { Chance, type Spread } from "./simulate-chance";
import { Play, type PlayedLoad, WAITS } from "./simulate-play";
import { bookedLoads, dealtLoads, playedShop, queuesOf } from "./simulate-shop";
import type { Simulation, SimulatedWeeks } from "./simulate-types";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Open from 8 to 18 every day, from midnight of day 0; two tanks on one supply. */
function board(changes: Partial<Board> = {}): Board {
  return {
    nowMs: 0,
    horizonMs: 14 * DAY,
    stepMs: HOUR / 4,
    openings: Array.from({ length: 14 }, (_, day) => ({
      fromMs: day * DAY + 8 * HOUR,
      untilMs: day * DAY + 18 * HOUR,
    })),
    loadMinutes: 30,
    pullMinutes: 30,
    hands: 2,
    tanks: [
      { id: "a", supplyId: "s" },
      { id: "b", supplyId: "s" },
    ],
    supplies: [{ id: "s", ratingA: 20 }],
    held: [],
    jobs: [],
    dips: [],
    share: () => null,
    ...changes,
  };
}

type Booking = {
  readonly id: string;
  readonly tankId?: string;
  /** h after midnight of day 0 */
  readonly start: number;
  readonly hours: number;
  readonly currentA?: number;
  readonly after?: string;
  readonly due?: number;
};

/** A shop with loads booked as told, one dip and one job each, half an hour on the bench. */
function shop(
  bookings: readonly Booking[],
  changes: Partial<Board> = {},
): { board: Board; loads: BoardLoad[] } {
  const loads = bookings.map(({ id, tankId = "a", start, hours, currentA = 5 }) => {
    const pullAtMs = (start + 0.5 + hours) * HOUR;
    return {
      id,
      dipIds: [id],
      tankId,
      needs: { hours, currentA },
      startsAtMs: start * HOUR,
      pullAtMs,
      endsAtMs: pullAtMs + HOUR / 2,
      benchUntilMs: pullAtMs + HOUR,
    };
  });
  const on = board({
    dips: bookings.map(({ id, after = null, tankId = "a", hours, currentA = 5 }) => ({
      id,
      jobId: `job ${id}`,
      releaseMs: 0,
      afterId: after,
      tanks: new Map([[tankId, { hours, currentA }]]),
      benchMinutes: 30,
    })),
    jobs: bookings.map(({ id, due }) => ({
      id: `job ${id}`,
      dueMs: due === undefined ? null : due * HOUR,
      weight: 1,
      heldUntilMs: null,
    })),
    ...changes,
  });
  return { board: on, loads };
}

/** One play in which every load takes exactly these hours; others take what they were booked. */
function playOnce(
  on: { board: Board; loads: readonly BoardLoad[] },
  hours: Record<string, number> = {},
  pullWhenDone = false,
): { loads: ReadonlyMap<string, PlayedLoad>; waitedMs: Float64Array; play: Play } {
  const spreads = new Map(
    Object.entries(hours).map(([id, h]): [string, Spread] => [id, { p50Hours: h, p90Hours: h }]),
  );
  const queues = queuesOf(
    on.board.tanks.map(({ id }) => id),
    new Map(),
  );
  const booked = bookedLoads(on.board, on.loads, spreads, queues);
  const loads = dealtLoads(booked.map((load) => ({ load, deviate: 0 })));
  const play = new Play(
    playedShop(on.board, queues, { ...on, spreads, pullWhenDone, seed: 1, untilMs: 14 * DAY }),
    [...loads.values()],
  );
  play.run();
  return { loads, waitedMs: play.tally.waitedMs, play };
}

const began = (loads: ReadonlyMap<string, PlayedLoad>, id: string): number =>
  (loads.get(id)?.beganMs ?? Number.NaN) / HOUR;
const out = (loads: ReadonlyMap<string, PlayedLoad>, id: string): number =>
  (loads.get(id)?.outMs ?? Number.NaN) / HOUR;

describe("one play", () => {
  const two = [
    { id: "x", start: 8, hours: 4 },
    { id: "y", start: 13, hours: 3 },
  ];

  it("goes as booked when everything takes as long as booked", () => {
    const { loads, waitedMs } = playOnce(shop(two));
    expect([began(loads, "x"), out(loads, "x")]).toEqual([8, 13]);
    expect([began(loads, "y"), out(loads, "y")]).toEqual([13, 17]);
    expect(Math.max(...waitedMs)).toBe(0);
  });

  it("keeps a load in that takes longer, and the next one out; waiting is laid to the tank", () => {
    const { loads, waitedMs } = playOnce(shop(two), { x: 5.5 });
    expect(out(loads, "x")).toBe(14.5);
    expect(began(loads, "y")).toBe(14.5);
    expect(waitedMs[WAITS.TANKS]).toBe(1.5 * HOUR);
  });

  it("pulls a load that is done sooner at its booked pull, or as soon as it is done", () => {
    expect(out(playOnce(shop(two), { x: 2 }).loads, "x")).toBe(13);
    const { loads } = playOnce(shop(two), { x: 2 }, true);
    expect(out(loads, "x")).toBe(11);
    expect(began(loads, "y")).toBe(13);
  });

  it("pulls in the morning what is done at night, and lays the wait to the openings", () => {
    const { loads, waitedMs } = playOnce(shop(two), { y: 6 });
    expect(loads.get("y")?.treatedMs).toBe(19.5 * HOUR);
    expect(out(loads, "y")).toBe(32.5);
    expect(loads.get("y")?.finishedMs).toBe(33 * HOUR);
    expect(waitedMs[WAITS.SHUT]).toBe(12.5 * HOUR);
  });

  it("counts no waiting before the booked pull, whatever is done when", () => {
    const { waitedMs, loads } = playOnce(
      shop([{ id: "x", start: 17, hours: 15 }]),
      { x: 10 },
      true,
    );
    expect(out(loads, "x")).toBe(32.5);
    expect(waitedMs[WAITS.SHUT]).toBe(0);
  });

  it("does not begin a pull that would not be finished before closing", () => {
    // Done at 17:15; pull and bench are an hour.
    expect(out(playOnce(shop(two), { y: 3.75 }).loads, "y")).toBe(32.5);
  });

  it("lays a wait behind a load that is done to what keeps that from being pulled", () => {
    const late = [two[0] ?? { id: "x", start: 8, hours: 4 }, { id: "y", start: 32, hours: 3 }];
    const { loads, waitedMs } = playOnce(shop(late), { x: 13 });
    expect(out(loads, "x")).toBe(32.5);
    expect(began(loads, "y")).toBe(32.5);
    expect(waitedMs[WAITS.SHUT]).toBe(10.5 * HOUR);
  });

  it("waits for hands, and pulls before it loads", () => {
    const on = shop(
      [
        { id: "x", start: 8, hours: 4 },
        { id: "y", tankId: "b", start: 12.5, hours: 4 },
      ],
      { hands: 1 },
    );
    const { loads, waitedMs } = playOnce(on);
    expect(out(loads, "x")).toBe(13);
    expect(began(loads, "y")).toBe(13.5);
    expect(waitedMs[WAITS.HANDS]).toBe(HOUR);
  });

  it("leaves the hands to a bath change, also one that is about to begin", () => {
    const held = {
      id: "bath",
      tankId: "b",
      currentA: 0,
      fromMs: 8.25 * HOUR,
      untilMs: 10 * HOUR,
      attended: [{ fromMs: 8.25 * HOUR, untilMs: 10 * HOUR }],
    };
    const { loads } = playOnce(shop([{ id: "x", start: 8, hours: 4 }], { hands: 1, held: [held] }));
    expect(began(loads, "x")).toBe(10);
  });

  it("waits for room on the supply", () => {
    const on = shop([
      { id: "x", start: 8, hours: 4, currentA: 12 },
      { id: "y", tankId: "b", start: 13, hours: 2, currentA: 12 },
    ]);
    const { loads, waitedMs } = playOnce(on, { x: 5 });
    expect(began(loads, "y")).toBe(14);
    expect(waitedMs[WAITS.TANKS + 2]).toBe(HOUR);
  });

  it("puts no end in before the other is out", () => {
    const on = shop([
      { id: "x", start: 8, hours: 4 },
      { id: "y", tankId: "b", start: 13, hours: 3, after: "x" },
    ]);
    const { loads, waitedMs } = playOnce(on, { x: 5 });
    expect(began(loads, "y")).toBe(14);
    expect(waitedMs[WAITS.OTHER_END]).toBe(HOUR);
  });

  it("begins nothing in a tank that is held, and what is held waits for the tank", () => {
    const held = { id: "m", tankId: "a", currentA: 0, attended: [] };
    const on = shop([{ id: "x", start: 8, hours: 4 }], {
      held: [{ ...held, fromMs: 12 * HOUR, untilMs: 15 * HOUR }],
    });
    expect(out(playOnce(on).loads, "m")).toBe(16);
    const under = shop([{ id: "x", start: 8, hours: 4 }], {
      held: [{ ...held, fromMs: -HOUR, untilMs: 9 * HOUR }],
    });
    expect(began(playOnce(under).loads, "x")).toBe(9);
  });

  it("plays a held load that has a spread: one that runs from its beginning, one that is fixed from its start", () => {
    const held = (id: string, from: number, until: number) => ({
      id,
      tankId: "a",
      currentA: 5,
      fromMs: from * HOUR,
      untilMs: until * HOUR,
      attended: [{ fromMs: (until - 0.5) * HOUR, untilMs: (until + 0.5) * HOUR }],
    });
    const on = shop([{ id: "y", start: 16, hours: 1 }], {
      nowMs: 9 * HOUR,
      held: [held("runs", 4, 12), held("fixed", 12, 16)],
    });
    const asBooked = playOnce(on).loads;
    expect([out(asBooked, "runs"), out(asBooked, "fixed"), began(asBooked, "y")]).toEqual([
      12, 16, 16,
    ]);
    const { loads } = playOnce(on, { runs: 9, fixed: 2 });
    expect([out(loads, "runs"), loads.get("runs")?.finishedMs]).toEqual([14, 14.5 * HOUR]);
    expect([began(loads, "fixed"), out(loads, "fixed")]).toEqual([14, 17]);
    // It may be done already; it still comes out at its booked pull, or at once.
    expect(out(playOnce(on, { runs: 2 }).loads, "runs")).toBe(12);
    expect(out(playOnce(on, { runs: 2 }, true).loads, "runs")).toBe(9.5);
  });

  it("breaks no rule of the shop, whatever the hours are", () => {
    const busy = bookedBoard({ dips: 60, tanks: 4, seed: 3 });
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const chance = new Chance(seed);
      const hours = Object.fromEntries(
        busy.loads.map(({ id, needs }) => [id, needs.hours * Math.exp(0.5 * chance.normal())]),
      );
      const { loads, play } = playOnce(busy, hours, seed % 2 === 0);
      expectRulesKept(busy, [...loads.values()]);
      expect(Math.max(...play.tally.heldMs)).toBeLessThanOrEqual(14 * DAY);
    }
  });
});

/** Tanks, supplies, hands and openings, from what was written into the loads alone. */
function expectRulesKept(
  { board: on, loads: booked }: { board: Board; loads: readonly BoardLoad[] },
  loads: readonly PlayedLoad[],
): void {
  const tankOf = new Map(booked.map(({ id, tankId }) => [id, tankId]));
  const supplyOf = new Map(on.tanks.map(({ id, supplyId }) => [id, supplyId]));
  const begun = loads.filter(({ beganMs }) => beganMs < Number.POSITIVE_INFINITY);
  const pullMs = on.pullMinutes * 60_000;
  const tasks = begun.flatMap((load) => [
    { fromMs: load.beganMs, untilMs: load.beganMs + on.loadMinutes * 60_000 },
    ...(load.finishedMs < Number.POSITIVE_INFINITY
      ? [{ fromMs: load.finishedMs - load.benchMs - pullMs, untilMs: load.finishedMs }]
      : []),
  ]);
  for (const task of tasks) {
    const within = on.openings.filter(
      (open) => open.fromMs <= task.fromMs && task.untilMs <= open.untilMs,
    );
    expect(within).toHaveLength(1);
    const then = tasks.filter((one) => one.fromMs <= task.fromMs && task.fromMs < one.untilMs);
    expect(then.length).toBeLessThanOrEqual(on.hands);
  }
  for (const load of begun) {
    expect(load.beganMs).toBeGreaterThanOrEqual(load.bookedStartMs);
    const beside = begun.filter((one) => one.beganMs <= load.beganMs && load.beganMs < one.outMs);
    expect(beside.filter(({ id }) => tankOf.get(id) === tankOf.get(load.id))).toHaveLength(1);
    for (const { id, ratingA } of on.supplies) {
      const drawn = beside
        .filter((one) => supplyOf.get(tankOf.get(one.id) ?? "") === id)
        .reduce((sum, { currentA }) => sum + currentA, 0);
      expect(drawn).toBeLessThanOrEqual(ratingA + 1e-6);
    }
  }
}

const spreadsOf = (loads: readonly BoardLoad[], p50 = 0.6): ReadonlyMap<string, Spread> =>
  new Map(
    loads.map(({ id, needs: { hours } }) => [id, { p50Hours: p50 * hours, p90Hours: hours }]),
  );

function busyWeeks(seed: number, more: Partial<Simulation> = {}): Simulation {
  const { board: on, loads } = bookedBoard({ dips: 80, tanks: 4, seed });
  const untilMs = on.nowMs + 28 * DAY;
  return { board: on, loads, spreads: spreadsOf(loads, 0.7), times: 100, seed, untilMs, ...more };
}

const told = ({ plays: _plays, ...rest }: SimulatedWeeks): unknown => rest;

describe("simulateWeeks", () => {
  it("says the same for the same seed, and something else for another", () => {
    const weeks = busyWeeks(1);
    expect(told(simulateWeeks(weeks))).toEqual(told(simulateWeeks(weeks)));
    expect(told(simulateWeeks({ ...weeks, seed: 2 }))).not.toEqual(told(simulateWeeks(weeks)));
  });

  it("keeps every share within 0 to 1, and shares of the delay add up", () => {
    const { resources, jobs, bottleneck } = simulateWeeks(busyWeeks(2));
    for (const { used, usedWhileOpen, worst } of resources) {
      for (const share of [used, usedWhileOpen ?? 0, worst.low, worst.share, worst.high]) {
        expect(share).toBeGreaterThanOrEqual(0);
        expect(share).toBeLessThanOrEqual(1 + 1e-12);
      }
    }
    expect(resources.reduce((sum, one) => sum + one.shareOfDelay, 0)).toBeCloseTo(1, 9);
    expect(bottleneck?.waitedHours).toBe(Math.max(...resources.map((one) => one.waitedHours)));
    for (const { p50Ms, p90Ms } of jobs)
      expect(p90Ms ?? Infinity).toBeGreaterThanOrEqual(p50Ms ?? 0);
  });

  it("counts what was used", () => {
    const on = shop([{ id: "x", start: 8, hours: 4, due: 14 }]);
    const { resources, jobs, kept, bottleneck } = simulateWeeks({
      ...on,
      spreads: new Map(),
      times: 3,
      seed: 1,
      untilMs: DAY,
    });
    const used = (kind: string, id = ""): number =>
      resources.find((one) => one.kind === kind && one.id === id)?.used ?? Number.NaN;
    expect(used("TANK", "a")).toBeCloseTo(5 / 24, 9);
    expect(resources.find(({ id }) => id === "a")?.usedWhileOpen).toBeCloseTo(0.5, 9);
    expect(used("TANK", "b")).toBe(0);
    expect(used("SUPPLY", "s")).toBeCloseTo((5 * 5) / (20 * 24), 9);
    // Loading, pulling and the bench: half an hour each, of two pairs of hands over ten hours.
    expect(used("HANDS")).toBeCloseTo(1.5 / 20, 9);
    expect(used("OPENINGS")).toBeCloseTo(10 / 24, 9);
    expect(jobs).toMatchObject([{ jobId: "job x", kept: { share: 1 }, p90Ms: 13.5 * HOUR }]);
    expect(kept).toEqual({ mean: 1, low: 1, high: 1 });
    expect(bottleneck).toBeNull();
  });

  it("has no finish for a job with a dip that is not booked, and none to keep without a promise", () => {
    const on = shop([
      { id: "x", start: 8, hours: 4 },
      { id: "y", start: 33, hours: 4, due: 100 },
    ]);
    const { jobs } = simulateWeeks({
      board: on.board,
      loads: on.loads.slice(0, 1),
      spreads: new Map(),
      times: 10,
      seed: 1,
      untilMs: 7 * DAY,
    });
    expect(jobs).toMatchObject([
      { jobId: "job x", kept: null, p50Ms: 13.5 * HOUR },
      { jobId: "job y", kept: { share: 0 }, p50Ms: null, p90Ms: null },
    ]);
  });

  it("follows a job into its held loads", () => {
    const held = {
      id: "runs",
      tankId: "a",
      currentA: 5,
      fromMs: 8 * HOUR,
      untilMs: 13 * HOUR,
      attended: [{ fromMs: 12.5 * HOUR, untilMs: 13.5 * HOUR }],
    };
    const job = { id: "j", dueMs: 14 * HOUR, weight: 1, heldUntilMs: 13.5 * HOUR };
    const weeks: Simulation = {
      board: board({ nowMs: 9 * HOUR, held: [held], jobs: [job] }),
      loads: [],
      spreads: new Map([["runs", { p50Hours: 4, p90Hours: 6 }]]),
      times: 400,
      seed: 1,
      untilMs: 7 * DAY,
    };
    expect(simulateWeeks(weeks).jobs).toMatchObject([{ kept: { share: 1 } }]);
    const [played] = simulateWeeks({ ...weeks, heldLoads: new Map([["j", ["runs"]]]) }).jobs;
    // In time when done by 13:00, 4.5 h after it was loaded: z = ln(4.5 / 4) / ln(6 / 4) · 1.2816 = 0.372, so 64.5 %.
    expect(Math.abs((played?.kept?.share ?? 0) - 0.645)).toBeLessThan(0.072);
  });

  it("books what arrives, and keeps what it promised by the spread", () => {
    const weeks = busyWeeks(3);
    const dayEndsMs = Array.from({ length: 80 }, (_, day) => weeks.board.nowMs + day * DAY);
    const needs = { hours: 6, currentA: 4, p50Hours: 4, p90Hours: 6 };
    const tanks = new Map(weeks.board.tanks.map(({ id }) => [id, needs]));
    const dip = { benchMinutes: 30, tanks };
    const parts = [{ id: "part", weight: 1, dips: [dip, dip] }] as const;
    const arriving = (more: Partial<Simulation["arrivals"]>): SimulatedWeeks =>
      simulateWeeks({
        ...weeks,
        arrivals: { weeklyRate: 3, parts, promise: { kind: "EARLIEST" }, ...more },
      });
    const { arrivals } = arriving({});
    expect(arrivals?.arrived).toBeGreaterThan(10);
    expect(arrivals?.arrived).toBeLessThan(14);
    expect(arrivals?.withoutSlot).toBe(0);
    expect(arrivals?.kept?.share).toBeGreaterThan(0.6);
    const byDay = arriving({ promise: { kind: "EARLIEST", dayEndsMs } }).arrivals;
    expect(byDay?.kept?.share).toBeGreaterThan(arrivals?.kept?.share ?? 1);
    const never = arriving({ promise: { kind: "LEAD_TIME", hours: 1 } }).arrivals;
    expect(never?.kept?.share).toBe(0);
  });

  it("counts what arrives and finds no slot, which breaks a promise only where one was made", () => {
    const on = shop([]);
    const needs = { hours: 6, currentA: 40, p50Hours: 4, p90Hours: 6 };
    const parts = [
      {
        id: "too much for the supply",
        weight: 1,
        dips: [{ benchMinutes: 0, tanks: new Map([["a", needs]]) }],
      },
    ] as const;
    const arriving = (promise: NonNullable<Simulation["arrivals"]>["promise"]): SimulatedWeeks =>
      simulateWeeks({
        ...on,
        spreads: new Map(),
        arrivals: { weeklyRate: 7, parts, promise },
        times: 50,
        seed: 4,
        untilMs: 7 * DAY,
      });
    const { arrivals } = arriving({ kind: "EARLIEST" });
    expect(arrivals?.withoutSlot).toBe(arrivals?.arrived);
    expect(arrivals).toMatchObject({ kept: null, waitHours: null, flowHours: null });
    expect(arriving({ kind: "LEAD_TIME", hours: 24 }).arrivals?.kept?.share).toBe(0);
  });

  it("draws each part as often as it weighs, and may book it in the new tank too", () => {
    const on = shop([]);
    const part = (id: string, weight: number, hours: number) => {
      const needs = { hours, currentA: 1, p50Hours: hours, p90Hours: hours };
      return { id, weight, dips: [{ benchMinutes: 0, tanks: new Map([["a", needs]]) }] };
    };
    const weeks: Simulation = {
      ...on,
      spreads: new Map(),
      arrivals: {
        weeklyRate: 10,
        parts: [part("short", 3, 1), part("long", 1, 5)],
        promise: { kind: "EARLIEST" },
      },
      times: 200,
      seed: 4,
      untilMs: 7 * DAY,
    };
    const asItIs = simulateWeeks({ ...weeks, changes: [] });
    const waited = (one: SimulatedWeeks): number => one.arrivals?.waitHours ?? Number.NaN;
    const more = whatIf(weeks, asItIs, [{ kind: "TANK", likeTankId: "a" }]);
    expect(waited(more.changed)).toBeLessThan(0.9 * waited(asItIs));
    // A quarter of the parts are long: 2 h under current on average, an hour of loading and pulling, and nights.
    const { used } = asItIs.resources.find(({ kind }) => kind === "SUPPLY") ?? { used: 0 };
    const arrived = asItIs.arrivals?.arrived ?? 0;
    expect((used * 20 * 168) / arrived).toBeGreaterThan(2.5);
    expect(() =>
      simulateWeeks({
        ...weeks,
        arrivals: { weeklyRate: 0, parts: [part("x", 1, 1)], promise: { kind: "EARLIEST" } },
      }),
    ).toThrow(/weekly rate/);
  });

  it("tells how far it is, and ends when told to", () => {
    const shares: number[] = [];
    simulateWeeks(busyWeeks(1, { times: 30 }), (share) => shares.push(share));
    expect(shares).toEqual([1 / 3, 2 / 3, 1]);
    expect(() =>
      simulateWeeks(busyWeeks(1), () => {
        throw new Error("enough");
      }),
    ).toThrow("enough");
    const plays = simulatingWeeks(busyWeeks(1));
    expect(plays.next().value).toBeCloseTo(0.1, 9);
    expect(plays.return({} as SimulatedWeeks).done).toBe(true);
  });

  it("refuses what makes no sense", () => {
    const weeks = busyWeeks(1);
    expect(() => simulateWeeks({ ...weeks, times: 0 })).toThrow(/number of plays/);
    expect(() => simulateWeeks({ ...weeks, untilMs: 0 })).toThrow(/end of the plays/);
    const spreads = new Map([["x", { p50Hours: 4, p90Hours: 3 }]]);
    expect(() => simulateWeeks({ ...weeks, spreads })).toThrow(/load x/);
    const changes: ShopChange[] = [{ kind: "SUPPLY", tankId: "none" }];
    expect(() => simulateWeeks({ ...weeks, changes })).toThrow(/tank must be one of the board's/);
  });
});

describe("whatIf", () => {
  it("finds no difference where nothing is changed", () => {
    const weeks = busyWeeks(1);
    const { kept, delayHours, jobs } = whatIf(weeks, simulateWeeks(weeks), []);
    const none = { mean: 0, low: 0, high: 0 };
    expect([kept, delayHours, jobs]).toEqual([none, none, []]);
  });

  it("has a second tank take what the first would keep waiting", () => {
    const on = shop([
      { id: "x", start: 8, hours: 4 },
      { id: "y", start: 13, hours: 2, due: 17 },
    ]);
    const spreads = new Map([["x", { p50Hours: 5, p90Hours: 5 }]]);
    const weeks: Simulation = { ...on, spreads, times: 10, seed: 1, untilMs: 3 * DAY };
    const asItIs = simulateWeeks(weeks);
    expect(asItIs.bottleneck).toMatchObject({ kind: "TANK", id: "a", worst: { share: 1 } });
    const more = whatIf(weeks, asItIs, [{ kind: "TANK", likeTankId: "a" }]);
    expect(more.kept?.mean).toBe(1);
    expect(more.jobs).toEqual([{ jobId: "job y", before: 0, after: 1 }]);
    expect(more.changed.delayHours.mean).toBe(0);
  });

  it("has a second supply, and one more pair of hands, take what was waited for", () => {
    const supply = shop([
      { id: "x", start: 8, hours: 4, currentA: 12 },
      { id: "y", tankId: "b", start: 13, hours: 2, currentA: 12, due: 17 },
    ]);
    const spreads = new Map([["x", { p50Hours: 5, p90Hours: 5 }]]);
    const weeks: Simulation = { ...supply, spreads, times: 10, seed: 1, untilMs: 3 * DAY };
    const own = whatIf(weeks, simulateWeeks(weeks), [{ kind: "SUPPLY", tankId: "b" }]);
    expect([own.kept?.mean, own.delayHours.mean]).toEqual([1, -1]);
    const hands = shop(
      [
        { id: "x", start: 8, hours: 4 },
        { id: "y", tankId: "b", start: 12.5, hours: 4 },
      ],
      { hands: 1 },
    );
    const short: Simulation = { ...hands, spreads: new Map(), times: 5, seed: 1, untilMs: DAY };
    const more = whatIf(short, simulateWeeks(short), [{ kind: "HANDS" }]);
    expect(more.kept).toBeNull();
    expect(more.changed.delayHours.mean).toBe(0);
  });

  // More of something can make single plays worse (Graham's anomalies), but not the weeks as a whole.
  it("never keeps fewer promises with more of anything, beyond noise", () => {
    const changes: readonly ShopChange[] = [
      { kind: "TANK", likeTankId: "tank 1" },
      { kind: "SUPPLY", tankId: "tank 1" },
      { kind: "HANDS" },
    ];
    for (const seed of [1, 2, 3, 4]) {
      const weeks = busyWeeks(seed, { pullWhenDone: seed % 2 === 0 });
      const asItIs = simulateWeeks(weeks);
      for (const change of changes) {
        const more = whatIf(weeks, asItIs, [change]);
        expect(more.kept?.high).toBeGreaterThanOrEqual(0);
        expect(more.delayHours.low).toBeLessThanOrEqual(0);
      }
    }
  });

  it("tells a difference with common random numbers that separate plays would hide", () => {
    const weeks = busyWeeks(5);
    const asItIs = simulateWeeks(weeks);
    const change: ShopChange = { kind: "HANDS" };
    const width = ({ low, high }: { low: number; high: number }): number => high - low;
    const same = whatIf(weeks, asItIs, [change]).delayHours;
    const other = whatIf({ ...weeks, seed: 77 }, asItIs, [change]).delayHours;
    expect(width(same)).toBeLessThan(0.7 * width(other));
  });
});
