/** The simulation of the weeks ahead against the textbook results for queues, and its sums against outside figures. */
import { describe, expect, it } from "vitest";
import {
  type ArrivingPart,
  type Board,
  hoursAt,
  type SimulatedWeeks,
  simulateWeeks,
  type Spread,
  wilson,
} from "@/lib/scheduling";

const HOUR = 3_600_000;
const WEEK_H = 168;

/** One tank that is served around the clock, nothing booked; loading and pulling take no time. */
function oneTank(weeks: number, tanks = 1): Board {
  const horizonMs = 2 * weeks * WEEK_H * HOUR;
  return {
    nowMs: 0,
    horizonMs,
    stepMs: 1000,
    openings: [{ fromMs: 0, untilMs: horizonMs }],
    loadMinutes: 0,
    pullMinutes: 0,
    hands: 1000,
    tanks: Array.from({ length: tanks }, (_, at) => ({ id: `t${at}`, supplyId: "s" })),
    supplies: [{ id: "s", ratingA: 1000 }],
    held: [],
    jobs: [],
    dips: [],
    share: () => null,
  };
}

/**
 * A queue: jobs arrive at random and wait their turn. They are booked for a second each, so that the plan holds
 * nobody back and only the true hours make them wait.
 */
function queue(perHour: number, spread: Spread, weeks: number, times: number): SimulatedWeeks {
  const needs = { hours: 1 / 3600, currentA: 1, ...spread };
  const part: ArrivingPart = {
    id: "part",
    weight: 1,
    dips: [{ benchMinutes: 0, tanks: new Map([["t0", needs]]) }],
  };
  return simulateWeeks({
    board: oneTank(weeks),
    loads: [],
    spreads: new Map(),
    arrivals: {
      weeklyRate: perHour * WEEK_H,
      parts: [part],
      promise: { kind: "LEAD_TIME", hours: 24 },
    },
    times,
    seed: 11,
    untilMs: weeks * WEEK_H * HOUR,
    pullWhenDone: true,
  });
}

const waitOf = ({ arrivals }: SimulatedWeeks): number => arrivals?.waitHours ?? Number.NaN;

/**
 * Pollaczek and Khinchine, 1930: mean wait of a queue with Poisson arrivals and one server,
 *
 *   W = λ·E[S²] / (2·(1 − ρ)),  ρ = λ·E[S]
 *
 * from memory of any textbook of queues (Kleinrock, Queueing Systems I, 1975, section 5.7).
 */
function pollaczekKhinchine(perHour: number, mean: number, meanSquare: number): number {
  return (perHour * meanSquare) / (2 * (1 - perHour * mean));
}

describe("one tank around the clock is the queue of the textbooks", () => {
  it.each([0.3, 0.5, 0.7])("M/D/1 at load %d: always two hours", (load) => {
    const perHour = load / 2;
    const played = queue(perHour, { p50Hours: 2, p90Hours: 2 }, 20, 60);
    const theory = pollaczekKhinchine(perHour, 2, 4);
    expect(waitOf(played) / theory).toBeGreaterThan(0.95);
    expect(waitOf(played) / theory).toBeLessThan(1.05);
    const tank = played.resources.find(({ kind }) => kind === "TANK");
    expect(tank?.used).toBeCloseTo(load, 1);
    expect(played.bottleneck?.kind).toBe("TANK");
  });

  it("M/G/1 with log-normal hours: mean P50·e^(σ²/2), mean square P50²·e^(2σ²)", () => {
    const [spread, perHour] = [{ p50Hours: 2, p90Hours: 4 }, 0.2];
    const variance = (Math.log(2) / 1.2815516) ** 2;
    const [mean, meanSquare] = [2 * Math.exp(variance / 2), 4 * Math.exp(2 * variance)];
    const ratio =
      waitOf(queue(perHour, spread, 20, 100)) / pollaczekKhinchine(perHour, mean, meanSquare);
    expect(ratio).toBeGreaterThan(0.93);
    expect(ratio).toBeLessThan(1.07);
  });

  // J. D. C. Little, A proof for the queuing formula L = λW, Operations Research 9, 1961. Both sides are counted apart:
  // L from the state of the tank at each moment, λW from the jobs. Jobs still in at the end make the difference.
  it("keeps Little's law", () => {
    const played = queue(0.3, { p50Hours: 2, p90Hours: 3 }, 20, 40);
    const { arrivals, resources, delayHours } = played;
    const clockH = 20 * WEEK_H;
    const held = resources.find(({ kind }) => kind === "TANK")?.used ?? Number.NaN;
    const inSystem = delayHours.mean / clockH + held;
    const perHour = (arrivals?.arrived ?? Number.NaN) / clockH;
    expect(inSystem / (perHour * (arrivals?.flowHours ?? Number.NaN))).toBeCloseTo(1, 2);
    // Booked starts lie on whole seconds, arrivals do not.
    expect(inSystem).toBeCloseTo(arrivals?.inShop ?? Number.NaN, 3);
    expect(perHour).toBeCloseTo(0.3, 1);
  });
});

describe("shares and hours", () => {
  // Newcombe, Statistics in Medicine 17, 1998, table I, method 3 (Wilson's score), from memory: 81/263, 15/148, 0/20, 1/29.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("Wilson's interval of %d in %d is %d to %d", (hits, tries, low, high) => {
    expect(wilson(hits, tries).low).toBeCloseTo(low, 4);
    expect(wilson(hits, tries).high).toBeCloseTo(high, 4);
  });

  // Normal deviates of 10, 25, 50, 75, 90 and 97.5 %: any table. ln t is normal, so P10 · P90 = P50² and so on.
  it("are log-normal through P50 and P90", () => {
    const spread = { p50Hours: 4, p90Hours: 9 };
    const sigma = Math.log(9 / 4) / 1.2815516;
    for (const z of [-1.2815516, -0.67449, 0, 0.67449, 1.2815516, 1.959964]) {
      expect(hoursAt(spread, z)).toBeCloseTo(4 * Math.exp(sigma * z), 5);
    }
    expect(hoursAt(spread, -1.2815516) * hoursAt(spread, 1.2815516)).toBeCloseTo(16, 4);
  });

  it("has a load on time as often as its P50 and P90 say", () => {
    const board = oneTank(2, 2);
    const loads = ["a", "b"].map((id, at) => ({
      id,
      dipIds: [id],
      tankId: `t${at}`,
      needs: { hours: 6, currentA: 1 },
      startsAtMs: 0,
      pullAtMs: 6 * HOUR,
      endsAtMs: 6 * HOUR,
      benchUntilMs: 6 * HOUR,
    }));
    const tanks = new Map([["t0", { hours: 6, currentA: 1 }]]);
    const played = simulateWeeks({
      board: {
        ...board,
        jobs: [
          { id: "by P50", dueMs: 4 * HOUR, weight: 1, heldUntilMs: null },
          { id: "by P90", dueMs: 6 * HOUR, weight: 1, heldUntilMs: null },
        ],
        dips: ["a", "b"].map((id, at) => ({
          id,
          jobId: at === 0 ? "by P50" : "by P90",
          releaseMs: 0,
          afterId: null,
          tanks,
          benchMinutes: 0,
        })),
      },
      loads,
      spreads: new Map(["a", "b"].map((id) => [id, { p50Hours: 4, p90Hours: 6 }])),
      times: 4000,
      seed: 5,
      untilMs: WEEK_H * HOUR,
      pullWhenDone: true,
    });
    const [half, most] = played.jobs;
    // Three standard deviations of a binomial of 4000.
    expect(Math.abs((half?.kept?.share ?? 0) - 0.5)).toBeLessThan(0.024);
    expect(Math.abs((most?.kept?.share ?? 0) - 0.9)).toBeLessThan(0.0143);
    expect((half?.p50Ms ?? 0) / HOUR).toBeCloseTo(4, 0);
    expect((most?.p90Ms ?? 0) / HOUR).toBeCloseTo(6, 0);
  });
});
