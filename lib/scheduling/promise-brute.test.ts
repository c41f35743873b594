/** The promise against every start in every tank, on small boards that chance makes. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { naiveStretch } from "@/test/support/naive-shop";
import type { Board, BoardDip, BoardLoad } from "./board";
import { openingsBetween } from "./calendar";
import { changedBoard } from "./change";
import { faultsOf } from "./faults";
import { earliestPromise } from "./promise";
import type { EarliestPromise, NewPart } from "./promise-types";

const HOUR = 3_600_000;
const STEP = HOUR / 4;
const TANKS = ["a", "b", "c"] as const;

type Shop = { readonly board: Board; readonly loads: readonly BoardLoad[] };

const needs = fc.record({
  hours: fc.integer({ min: 1, max: 30 }).map((quarters) => quarters / 2),
  currentA: fc.integer({ min: 1, max: 12 }),
});
const someTanks = fc
  .uniqueArray(fc.constantFrom(...TANKS), { minLength: 1 })
  .chain((ids) => fc.tuple(...ids.map((id) => fc.tuple(fc.constant(id), needs))))
  .map((entries) => new Map(entries));

type Minutes = { readonly load: number; readonly pull: number; readonly bench: readonly number[] };

/** Three days from a Saturday noon; in March and October the clocks change on the Sunday. */
const shopsWith = ({ load, pull, bench }: Minutes): fc.Arbitrary<Shop> =>
  fc
    .record({
      from: fc.constantFrom("2026-03-28T11:00Z", "2026-10-24T10:00Z", "2026-11-21T11:00Z"),
      opens: fc.integer({ min: 12, max: 20 }),
      lasts: fc.integer({ min: 8, max: 24 }),
      hands: fc.integer({ min: 1, max: 2 }),
      supplies: fc.constantFrom(["s", "s", "s"], ["s", "s", "t"], ["s", "t", "u"]),
      tries: fc.array(
        fc.record({
          tank: fc.constantFrom(...TANKS),
          at: fc.integer({ min: 0, max: 200 }),
          needs,
          bench: fc.constantFrom(...bench),
          isHeld: fc.boolean(),
          weight: fc.constantFrom(1, 3),
          due: fc.integer({ min: 0, max: 80 }),
        }),
        { maxLength: 12 },
      ),
    })
    .map(({ from, opens, lasts, hands, supplies, tries }) => {
      const nowMs = Date.parse(from);
      const hours = [1, 6, 7].map((weekday) => ({
        weekday,
        opensMinute: opens * 30,
        closesMinute: opens * 30 + lasts * 30,
      }));
      const calendar = { timeZone: "Europe/Berlin", hours, closedDays: [] };
      let board: Board = {
        nowMs,
        horizonMs: nowMs + 72 * HOUR,
        stepMs: STEP,
        openings: openingsBetween(calendar, nowMs, nowMs + 72 * HOUR),
        loadMinutes: load,
        pullMinutes: pull,
        hands,
        tanks: TANKS.map((id, index) => ({ id, supplyId: supplies[index] ?? "s" })),
        supplies: ["s", "t", "u"].map((id) => ({ id, ratingA: 16 })),
        held: [],
        jobs: [],
        dips: [],
        share: (_tank, ids) => ({ hours: 3 * ids.length, currentA: 4 * ids.length }),
      };
      const loads: BoardLoad[] = [];
      tries.forEach((one, index) => {
        const start = nowMs + one.at * STEP;
        const stretch = naiveStretch(board, loads, one.needs, one.tank, start, one.bench);
        if (!stretch) return;
        const id = `x${index}`;
        if (one.isHeld && index < 4) {
          const attended = [
            { fromMs: stretch.startsAtMs, untilMs: stretch.startsAtMs + STEP },
            { fromMs: stretch.pullAtMs, untilMs: stretch.benchUntilMs },
          ];
          const span = { fromMs: stretch.startsAtMs, untilMs: stretch.endsAtMs, attended };
          const held = { id, tankId: one.tank, currentA: one.needs.currentA, ...span };
          board = { ...board, held: [...board.held, held] };
          return;
        }
        loads.push({ id, dipIds: [id], tankId: one.tank, needs: one.needs, ...stretch });
        const dip = {
          id,
          jobId: id,
          releaseMs: nowMs,
          afterId: null,
          tanks: new Map([[one.tank, one.needs]]),
          benchMinutes: one.bench,
        };
        const job = { id, dueMs: nowMs + one.due * HOUR, weight: one.weight, heldUntilMs: null };
        board = { ...board, dips: [...board.dips, dip], jobs: [...board.jobs, job] };
      });
      return { board, loads };
    });

const shops = shopsWith({ load: 15, pull: 15, bench: [0, 15, 45] });

const parts = (ends: 1 | 2): fc.Arbitrary<NewPart> =>
  fc
    .record({
      tanks: fc.tuple(someTanks, someTanks),
      bench: fc.tuple(fc.constantFrom(0, 30), fc.constantFrom(0, 30)),
      release: fc.integer({ min: -4, max: 100 }),
    })
    .map(({ tanks, bench, release }): NewPart => {
      const dip = (index: 0 | 1): BoardDip => ({
        id: `end ${index}`,
        jobId: "new",
        releaseMs: Date.parse("2026-03-28T11:00Z") + release * STEP,
        afterId: index === 0 ? null : "end 0",
        tanks: tanks[index],
        benchMinutes: bench[index],
      });
      const job = { id: "new", dueMs: null, weight: 2, heldUntilMs: null };
      return { job, dips: ends === 1 ? [dip(0)] : [dip(0), dip(1)] };
    });

/** Every way to place a dip among these loads. */
function* everyPlace(shop: Shop, dip: BoardDip, afterMs: number): Generator<BoardLoad> {
  const { board, loads } = shop;
  const firstMs = Math.ceil(Math.max(afterMs, dip.releaseMs, board.nowMs) / STEP) * STEP;
  for (const [tankId, asks] of dip.tanks) {
    for (let at = firstMs; at < board.horizonMs; at += STEP) {
      const stretch = naiveStretch(board, loads, asks, tankId, at, dip.benchMinutes);
      if (stretch) yield { id: dip.id, dipIds: [dip.id], tankId, needs: asks, ...stretch };
    }
  }
}

/** The best done of all, by the tank of the last dip. */
function bruteForce(shop: Shop, part: NewPart): Map<string, number> {
  const best = new Map<string, number>();
  const note = ({ tankId, benchUntilMs }: BoardLoad, alsoMs = 0): void => {
    const done = Math.max(benchUntilMs, alsoMs);
    best.set(tankId, Math.min(best.get(tankId) ?? Number.POSITIVE_INFINITY, done));
  };
  const [first, second] = part.dips;
  for (const load of everyPlace(shop, first, 0)) {
    if (!second) note(load);
    else {
      const then = { ...shop, loads: [...shop.loads, load] };
      for (const last of everyPlace(then, second, load.endsAtMs)) note(last, load.benchUntilMs);
    }
  }
  return best;
}

const ask = (shop: Shop, part: NewPart): EarliestPromise =>
  earliestPromise({
    ...shop,
    part: { ...part, joinable: new Map(TANKS.map((id) => [id, shop.loads.map((one) => one.id)])) },
    timeZone: "Europe/Berlin",
    mayGiveWay: new Set(shop.loads.map(({ id }) => id)),
    extraOpenings: [
      {
        label: "the first night",
        span: { fromMs: shop.board.nowMs, untilMs: shop.board.nowMs + 20 * HOUR },
      },
    ],
  });

function expectBest(shop: Shop, part: NewPart): void {
  const answer = ask(shop, part);
  const best = bruteForce(shop, part);
  const slots = answer.slot ? [answer.slot, ...answer.runnersUp] : [];
  const found = slots.map(({ loads, doneMs }) => [loads.at(-1)?.tankId, doneMs] as const);
  expect(new Map(found)).toEqual(best);
  expect(found.map(([, done]) => done)).toEqual([...best.values()].sort((a, b) => a - b));
}

/**
 * Whether all loads can stand on the board together: each may be where it is among the others, and breaks no rule of
 * the check that shares nothing with the engine.
 */
function expectPossible(shopBoard: Board, part: NewPart, loads: readonly BoardLoad[]): void {
  const board = { ...shopBoard, dips: [...shopBoard.dips, ...part.dips] };
  for (const load of loads) {
    const others = loads.filter((other) => other !== load);
    const bench = (load.benchUntilMs - load.endsAtMs) / 60_000;
    expect(
      naiveStretch(board, others, load.needs, load.tankId, load.startsAtMs, bench),
    ).not.toBeNull();
    expect(faultsOf(board, others, load)).toEqual([]);
  }
}

describe("earliestPromise", () => {
  it("has one dip ready as early as any start in any tank", () => {
    fc.assert(fc.property(shops, parts(1), expectBest), { numRuns: 60 });
  });

  it("has both ends ready as early as any two starts in any two tanks", () => {
    fc.assert(fc.property(shops, parts(2), expectBest), { numRuns: 12 });
  });

  it("gives a reason for every start that it passed over, and each is impossible", () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(shops, parts(1), (shop, part) => {
        const { slot, whyNotEarlier } = ask(shop, part);
        for (const { heldBack } of whyNotEarlier) for (const { kind } of heldBack) seen.add(kind);
        const [load] = slot?.loads ?? [];
        if (!load) return;
        const first = Math.ceil(shop.board.nowMs / STEP) * STEP;
        const heldBack = whyNotEarlier[0]?.heldBack ?? [];
        const edges = heldBack.flatMap(({ fromMs, untilMs }) => [fromMs, untilMs]);
        // Without gaps from now until the start: inner edges come in pairs.
        expect(edges).toEqual(
          load.startsAtMs === first
            ? []
            : [first, ...edges.slice(1, -1).toSorted((a, b) => a - b), load.startsAtMs],
        );
        expect(heldBack.slice(1).map(({ fromMs }) => fromMs)).toEqual(
          heldBack.slice(0, -1).map(({ untilMs }) => untilMs),
        );
        for (const one of heldBack.filter(({ kind }) => kind !== "RELEASE")) {
          for (let at = one.fromMs; at < one.untilMs; at += STEP) {
            const bench = part.dips[0].benchMinutes;
            const { board, loads } = shop;
            expect(naiveStretch(board, loads, load.needs, load.tankId, at, bench)).toBeNull();
          }
        }
      }),
      { numRuns: 150, seed: 20 },
    );
    expect([...seen].sort()).toEqual([
      "GAP_TOO_SHORT",
      "HANDS_TAKEN",
      "RELEASE",
      "SHUT",
      "SUPPLY_FULL",
      "TANK_BUSY",
    ]);
  });

  it("has reasons without gaps, also where work takes no whole number of steps", () => {
    const uneven = shopsWith({ load: 10, pull: 20, bench: [0, 7.5, 23.2, 400] });
    fc.assert(
      fc.property(uneven, parts(2), (shop, part) => {
        const { slot, whyNotEarlier } = ask(shop, part);
        slot?.loads.forEach(({ startsAtMs }, at) => {
          const heldBack = whyNotEarlier[at]?.heldBack ?? [];
          expect(heldBack.at(-1)?.untilMs ?? shop.board.nowMs).toBe(startsAtMs);
        });
      }),
      { numRuns: 100 },
    );
  });

  it("passes over no second supply that would help", () => {
    let helped = 0;
    fc.assert(
      fc.property(shops, fc.oneof(parts(1), parts(2)), (shop, part) => {
        const { slot, wouldHelp } = ask(shop, part);
        const byMs = (slot?.doneMs ?? Number.POSITIVE_INFINITY) - HOUR;
        const { tanks } = shop.board;
        const shared = tanks.filter(({ id, supplyId }) =>
          tanks.some((other) => other.id !== id && other.supplyId === supplyId),
        );
        const helping = shared
          .filter(({ id }) => part.dips.some((dip) => dip.tanks.has(id)))
          .map(({ id }) => id)
          .filter((tankId) => {
            const board = changedBoard(shop.board, { kind: "SUPPLY", tankId });
            const doneMs = ask({ ...shop, board }, part).slot?.doneMs;
            return doneMs !== undefined && doneMs <= byMs;
          });
        const told = wouldHelp.flatMap((help) => (help.kind === "SUPPLY" ? [help.tankId] : []));
        expect(told.sort()).toEqual(helping.sort());
        helped += helping.length;
      }),
      { numRuns: 100, seed: 20 },
    );
    expect(helped).toBeGreaterThan(5);
  });

  it("proposes only what can really be done, gains an hour and leaves no load out", () => {
    const seen = new Map<string, number>();
    fc.assert(
      fc.property(shops, fc.oneof(parts(1), parts(2)), (shop, part) => {
        const { slot, wouldHelp } = ask(shop, part);
        if (slot) expectPossible(shop.board, part, [...shop.loads, ...slot.loads]);
        for (const help of wouldHelp) {
          seen.set(help.kind, (seen.get(help.kind) ?? 0) + 1);
          expect(help.slot.doneMs).toBeLessThanOrEqual((slot?.doneMs ?? Infinity) - HOUR);
          if (help.kind !== "GIVE_WAY" && help.kind !== "SHARE") continue;
          const now = new Map(shop.loads.map((load) => [load.id, load]));
          for (const { to } of help.moved) now.set(to.id, to);
          for (const load of help.slot.loads) now.set(load.id, load);
          expectPossible(shop.board, part, [...now.values()]);
        }
      }),
      { numRuns: 150, seed: 20 },
    );
    for (const kind of ["OPEN", "SUPPLY", "HANDS", "SHARE", "GIVE_WAY"] as const) {
      expect(seen.get(kind) ?? 0, kind).toBeGreaterThan(3);
    }
  });
});
