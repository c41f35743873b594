import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boardOf, HOUR_MS, MINUTE_MS } from "../../test/support/board-of";
import {
  type Board,
  type BoardLoad,
  faultsOf,
  openingsBetween,
  type Stretch,
  Timeline,
  timesOf,
} from "./index";

type Asked = { tank: number; hours: number; currentA: number; benchMinutes: number; from: number };
type Drawn = { readonly board: Board; readonly asked: readonly Asked[] };

const DAYS = [
  ["Europe/Berlin", "2026-03-28T12:00Z"],
  ["Europe/Berlin", "2026-10-24T12:00Z"],
  ["America/New_York", "2026-03-07T18:00Z"],
  ["America/New_York", "2026-10-31T18:00Z"],
  ["Australia/Lord_Howe", "2026-04-04T03:00Z"],
] as const;

const asked = fc.record({
  tank: fc.integer({ min: 0, max: 1 }),
  hours: fc.integer({ min: 1, max: 100 }).map((tenths) => tenths / 10),
  currentA: fc.integer({ min: 0, max: 60 }).map((tenths) => tenths / 10),
  benchMinutes: fc.constantFrom(0, 10, 30, 55),
  from: fc.integer({ min: 0, max: 200 }),
});

const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    day: fc.constantFrom(...DAYS),
    step: fc.constantFrom(5, 15, 30),
    opens: fc.integer({ min: 0, max: 10 }),
    lasts: fc.integer({ min: 1, max: 13 }),
    closed: fc.integer({ min: 0, max: 6 }),
    loadMinutes: fc.constantFrom(0, 10, 15, 25),
    pullMinutes: fc.constantFrom(0, 10, 15),
    hands: fc.integer({ min: 1, max: 2 }),
    ratingA: fc.integer({ min: 30, max: 90 }).map((tenths) => tenths / 10),
    held: fc.array(
      fc.record({
        tank: fc.integer({ min: 0, max: 1 }),
        from: fc.integer({ min: -300, max: 3000 }),
      }),
      { maxLength: 3 },
    ),
    asked: fc.array(asked, { minLength: 1, maxLength: 9 }),
  })
  .map((rolled) => {
    const nowMs = Date.parse(rolled.day[1]) + 7 * MINUTE_MS;
    const horizonMs = nowMs + 60 * HOUR_MS;
    const hours = [1, 2, 3, 4, 5, 6, 7]
      .filter((weekday) => weekday !== rolled.closed)
      .map((weekday) => ({
        weekday,
        opensMinute: rolled.opens * 60 + 20,
        closesMinute: (rolled.opens + rolled.lasts) * 60,
      }));
    const board = boardOf({
      nowMs,
      horizonMs,
      stepMs: rolled.step * MINUTE_MS,
      openings: openingsBetween(
        { timeZone: rolled.day[0], hours, closedDays: [] },
        nowMs,
        horizonMs,
      ),
      loadMinutes: rolled.loadMinutes,
      pullMinutes: rolled.pullMinutes,
      hands: rolled.hands,
      tanks: [
        { id: "t0", supplyId: "s0" },
        { id: "t1", supplyId: "s0" },
      ],
      supplies: [{ id: "s0", ratingA: rolled.ratingA }],
      held: rolled.held.map(({ tank, from }, index) => {
        const fromMs = nowMs + from * MINUTE_MS;
        const untilMs = fromMs + 5 * HOUR_MS;
        const attended = [{ fromMs: untilMs, untilMs: untilMs + 20 * MINUTE_MS }];
        return { id: `h${index}`, tankId: `t${tank}`, currentA: 2.5, fromMs, untilMs, attended };
      }),
    });
    return { board, asked: rolled.asked };
  });

/** What a load would hold, minute by minute, each stretch widened to the whole steps that it touches. */
type Held = {
  tank: number;
  from: number;
  until: number;
  currentA: number;
  hands: [number, number][];
};

/** Looks at every start and every pull, and at every minute of both: slow, and shares nothing with the engine. */
function firstByMinutes(board: Board, held: readonly Held[], wanted: Asked, fromMs: number) {
  const step = board.stepMs / MINUTE_MS;
  const end = board.horizonMs / MINUTE_MS;
  const isOpen = (from: number, lasts: number): boolean =>
    board.openings.some(
      (open) =>
        open.fromMs <= from * MINUTE_MS &&
        (from + lasts) * MINUTE_MS <= open.untilMs &&
        from * MINUTE_MS < open.untilMs,
    );
  const longest = Math.max(
    0,
    ...board.openings.map((open) => (open.untilMs - open.fromMs) / MINUTE_MS),
  );
  const attended = Math.max(
    board.pullMinutes,
    Math.min(longest, board.pullMinutes + wanted.benchMinutes),
  );
  const whole = (from: number, until: number): [number, number] => [
    Math.floor(from / step) * step,
    Math.ceil(until / step) * step,
  ];
  const handsFree = (from: number, lasts: number): boolean => {
    const [first, last] = whole(from, from + lasts);
    for (let minute = first; minute < last; minute += 1) {
      const busy = held
        .flatMap(({ hands }) => hands)
        .filter(([a, b]) => {
          const [wa, wb] = whole(a, b);
          return wa <= minute && minute < wb;
        }).length;
      if (busy >= board.hands) return false;
    }
    return true;
  };
  const tankFree = (from: number, until: number): boolean => {
    const [first, last] = whole(from, until);
    for (let minute = first; minute < last; minute += 1) {
      const there = held.filter((one) => {
        const [a, b] = whole(one.from, one.until);
        return a <= minute && minute < b;
      });
      if (there.some(({ tank }) => tank === wanted.tank)) return false;
      const drawnA = there.reduce((sum, { currentA }) => sum + currentA, 0);
      if (
        wanted.currentA > 0 &&
        drawnA + wanted.currentA > (board.supplies[0]?.ratingA ?? 0) + 1e-6
      ) {
        return false;
      }
    }
    return true;
  };
  const first = Math.ceil(Math.max(fromMs, board.nowMs - board.stepMs) / MINUTE_MS / step) * step;
  for (let start = first; start < end; start += step) {
    if (!isOpen(start, board.loadMinutes) || !handsFree(start, board.loadMinutes)) continue;
    const treated = start + board.loadMinutes + wanted.hours * 60;
    for (let pull = Math.ceil(treated / step - 1e-9) * step; pull < end; pull += step) {
      if (!isOpen(pull, attended) || !handsFree(pull, attended)) continue;
      const out = Math.ceil((pull + board.pullMinutes) / step) * step;
      if (out <= Math.ceil(end / step) * step && tankFree(start, pull + board.pullMinutes)) {
        return { start, pull, attended };
      }
      break;
    }
  }
  return null;
}

describe("Timeline.earliest", () => {
  it("finds what looking at every start and every minute finds", () => {
    fc.assert(
      fc.property(drawn, ({ board, asked: all }) => {
        const timeline = new Timeline(board);
        const held: Held[] = board.held.map((one) => ({
          tank: Number(one.tankId.slice(1)),
          from: one.fromMs / MINUTE_MS,
          until: one.untilMs / MINUTE_MS,
          currentA: one.currentA,
          hands: one.attended.map((span) => [span.fromMs / MINUTE_MS, span.untilMs / MINUTE_MS]),
        }));
        for (const wanted of all) {
          const fromStep = timeline.stepAt(board.nowMs + wanted.from * 10 * MINUTE_MS);
          const found = timeline.earliest(wanted.tank, wanted, wanted.benchMinutes, fromStep);
          const expected = firstByMinutes(board, held, wanted, timeline.msOf(fromStep));
          expect(found && [timeline.msOf(found.startStep), timeline.msOf(found.pullStep)]).toEqual(
            expected && [expected.start * MINUTE_MS, expected.pull * MINUTE_MS],
          );
          if (!found || !expected) continue;
          timeline.put(found);
          const { start, pull, attended } = expected;
          held.push({
            tank: wanted.tank,
            from: start,
            until: pull + board.pullMinutes,
            currentA: wanted.currentA,
            hands: [
              [start, start + board.loadMinutes],
              [pull, pull + attended],
            ],
          });
        }
      }),
      { numRuns: 150 },
    );
  });

  it("finds places where no load breaks a rule, to the millisecond", () => {
    fc.assert(
      fc.property(drawn, ({ board: empty, asked: all }) => {
        const dips = all.map((one, index) => ({
          id: `d${index}`,
          jobId: "j",
          releaseMs: 0,
          afterId: null,
          benchMinutes: one.benchMinutes,
          tanks: new Map([[`t${one.tank}`, one]]),
        }));
        const board = { ...empty, dips };
        const timeline = new Timeline(board);
        const loads: BoardLoad[] = [];
        for (const [index, wanted] of all.entries()) {
          const fromStep = timeline.stepAt(board.nowMs);
          const found = timeline.earliest(wanted.tank, wanted, wanted.benchMinutes, fromStep);
          if (!found || timeline.msOf(found.endStep) > board.horizonMs) continue;
          timeline.put(found);
          loads.push({
            id: `l${index}`,
            dipIds: [`d${index}`],
            tankId: `t${wanted.tank}`,
            needs: wanted,
            ...timesOf(board, timeline, found, wanted.benchMinutes),
          });
        }
        for (const load of loads) expect(faultsOf(board, loads, load)).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it("leaves no trace of what was put and taken", () => {
    fc.assert(
      fc.property(drawn, fc.integer({ min: 0, max: 8 }), ({ board, asked: all }, keep) => {
        const timeline = new Timeline(board);
        const look = (): (Stretch | null)[] =>
          all.map((one) => timeline.earliest(one.tank, one, one.benchMinutes, 0));
        for (const one of all.slice(0, keep)) {
          const found = timeline.earliest(one.tank, one, one.benchMinutes, 0);
          if (found) timeline.put(found);
        }
        const before = look();
        const put = all.flatMap((one) => {
          const found = timeline.earliest(one.tank, one, one.benchMinutes, 0);
          if (found) timeline.put(found);
          return found ? [found] : [];
        });
        for (const one of put) timeline.take(one);
        expect(look()).toEqual(before);
      }),
    );
  });

  it("treats the night in which the clocks change for its real length", () => {
    const calendar = (timeZone: string) => ({
      timeZone,
      closedDays: [],
      hours: [6, 7, 1].map((weekday) => ({ weekday, opensMinute: 480, closesMinute: 1020 })),
    });
    const pulled = (zone: string, loadedAt: string, hours: number): string => {
      const nowMs = Date.parse(loadedAt);
      const horizonMs = nowMs + 72 * HOUR_MS;
      const openings = openingsBetween(calendar(zone), nowMs, horizonMs);
      const timeline = new Timeline(boardOf({ nowMs, horizonMs, openings }));
      const found = timeline.earliest(0, { hours, currentA: 1 }, 0, timeline.stepAt(nowMs));
      return found ? new Date(timeline.msOf(found.pullStep)).toISOString().slice(0, 16) : "none";
    };
    // 17:00 on Saturday to 08:00 on Sunday by the clock on the wall: 14 h in spring, 16 h in autumn.
    expect(pulled("Europe/Berlin", "2026-03-28T15:45Z", 14.25)).toBe("2026-03-29T06:00");
    expect(pulled("Europe/Berlin", "2026-03-28T15:45Z", 14.5)).toBe("2026-03-29T06:15");
    expect(pulled("Europe/Berlin", "2026-10-24T14:45Z", 16.25)).toBe("2026-10-25T07:00");
    expect(pulled("America/New_York", "2026-03-07T21:45Z", 14.25)).toBe("2026-03-08T12:00");
    expect(pulled("America/New_York", "2026-10-31T20:45Z", 16.25)).toBe("2026-11-01T13:00");
    expect(pulled("America/New_York", "2026-10-31T20:45Z", 16.5)).toBe("2026-11-01T13:15");
  });

  it("lets a booked load between two steps keep every step that it touches", () => {
    const board = boardOf({ loadMinutes: 15, pullMinutes: 15, hands: 1 });
    const timeline = new Timeline(board);
    const at = (minutes: number): number => board.nowMs + minutes * MINUTE_MS;
    timeline.put(
      timeline.stretchOf(
        {
          tankId: "t0",
          needs: { hours: 2, currentA: 1 },
          startsAtMs: at(65),
          pullAtMs: at(200),
          endsAtMs: at(215),
          benchUntilMs: at(215),
        },
        0,
      ),
    );
    const found = timeline.earliest(0, { hours: 1, currentA: 1 }, 0, timeline.stepAt(at(60)));
    expect(found && timeline.msOf(found.startStep)).toBe(at(225));
  });
});
