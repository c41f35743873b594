import { describe, expect, it } from "vitest";
import { naiveStretch } from "@/test/support/naive-shop";
import type { Board, BoardDip, BoardLoad, TankNeeds } from "./board";
import { openingsBetween } from "./calendar";
import { earliestPromise } from "./promise";
import type { NewPart, PromiseQuestion } from "./promise-types";

const HOUR = 3_600_000;
const STEP = HOUR / 4;
/** Monday */
const NOW = Date.parse("2026-11-23T07:00Z");

const at = (time: string): number => Date.parse(`2026-11-${time}Z`);
const week = [1, 2, 3, 4, 5].map((weekday) => ({
  weekday,
  opensMinute: 8 * 60,
  closesMinute: 17 * 60,
}));

function board(changes: Partial<Board> = {}): Board {
  const nowMs = changes.nowMs ?? NOW;
  const horizonMs = changes.horizonMs ?? NOW + 12 * 24 * HOUR;
  return {
    nowMs,
    horizonMs,
    stepMs: STEP,
    openings: openingsBetween(
      { timeZone: "Europe/Berlin", hours: week, closedDays: [] },
      nowMs,
      horizonMs,
    ),
    loadMinutes: 15,
    pullMinutes: 15,
    hands: 2,
    tanks: [
      { id: "long", supplyId: "big" },
      { id: "short", supplyId: "big" },
    ],
    supplies: [{ id: "big", ratingA: 20 }],
    held: [],
    jobs: [],
    dips: [],
    share: () => null,
    ...changes,
  };
}

function dip(id: string, tanks: Record<string, TankNeeds>, more: Partial<BoardDip> = {}): BoardDip {
  return {
    id,
    jobId: `job of ${id}`,
    releaseMs: 0,
    afterId: null,
    tanks: new Map(Object.entries(tanks)),
    benchMinutes: 30,
    ...more,
  };
}

const partOf = (dips: NewPart["dips"], more: Partial<NewPart> = {}): NewPart => ({
  job: { id: dips[0].jobId, dueMs: null, weight: 1, heldUntilMs: null },
  dips,
  ...more,
});

/** A load where it may be, with its dip and its job put on the board. */
function book(
  on: { board: Board; loads: BoardLoad[] },
  id: string,
  tankId: string,
  startsAtMs: number,
  needs: TankNeeds,
  more: { dueMs?: number; weight?: number; tanks?: string[] } = {},
): void {
  const stretch = naiveStretch(on.board, on.loads, needs, tankId, startsAtMs, 30);
  if (!stretch) throw new Error(`load ${id} cannot be there`);
  const tanks = Object.fromEntries([tankId, ...(more.tanks ?? [])].map((tank) => [tank, needs]));
  const one = dip(`dip ${id}`, tanks, { jobId: `job ${id}` });
  on.loads.push({ id, dipIds: [one.id], tankId, needs, ...stretch });
  const { dueMs = null, weight = 1 } = more;
  on.board = {
    ...on.board,
    dips: [...on.board.dips, one],
    jobs: [...on.board.jobs, { id: `job ${id}`, dueMs, weight, heldUntilMs: null }],
  };
}

const ask = (
  on: { board: Board; loads: readonly BoardLoad[] },
  part: NewPart,
  more: Partial<PromiseQuestion> = {},
): ReturnType<typeof earliestPromise> =>
  earliestPromise({ ...on, part, timeZone: "Europe/Berlin", ...more });

const FOUR = { hours: 4, currentA: 5 };
const shop = (changes: Partial<Board> = {}): { board: Board; loads: BoardLoad[] } => ({
  board: board(changes),
  loads: [],
});

describe("an empty shop", () => {
  it("takes the part at once and has it ready the same day", () => {
    const answer = ask(shop(), partOf([dip("a", { long: FOUR })]), { medianShare: 0.5 });
    expect(answer.slot).toMatchObject({
      loads: [{ tankId: "long", startsAtMs: NOW, pullAtMs: at("23T11:15"), dipIds: ["a"] }],
      doneMs: at("23T12:00"),
      day: "2026-11-23",
      median: { doneMs: at("23T10:00"), day: "2026-11-23" },
    });
    expect(answer.whyNotEarlier).toEqual([{ dipId: "a", heldBack: [], waitsForPull: null }]);
    expect(answer.runnersUp).toEqual([]);
    expect(answer.wouldHelp).toEqual([]);
  });

  it("offers the best of every other tank, soonest first", () => {
    const needs = { long: { hours: 6, currentA: 5 }, short: FOUR };
    const answer = ask(shop(), partOf([dip("a", needs)]));
    expect(answer.slot?.loads[0]?.tankId).toBe("short");
    expect(answer.runnersUp.map(({ loads }) => loads[0]?.tankId)).toEqual(["long"]);
    expect(answer.slot?.median).toBeNull();
  });

  it("puts the other end in after the first", () => {
    const both = partOf([
      dip("a", { long: FOUR, short: FOUR }),
      dip("b", { long: FOUR }, { afterId: "a", jobId: "job of a" }),
    ]);
    const answer = ask(shop(), both);
    const [first, second] = answer.slot?.loads ?? [];
    expect(first?.endsAtMs).toBe(at("23T11:30"));
    expect(second?.startsAtMs).toBe(at("23T11:30"));
    expect(answer.whyNotEarlier[1]?.heldBack).toEqual([
      { kind: "OTHER_END", dipId: "a", fromMs: NOW, untilMs: at("23T11:30") },
    ]);
  });

  it("has no answer where nothing fits, and says what would give one", () => {
    const short = shop({ horizonMs: at("23T10:00") });
    const answer = ask(short, partOf([dip("a", { long: FOUR })]));
    expect(answer).toEqual({ slot: null, whyNotEarlier: [], runnersUp: [], wouldHelp: [] });
    const evening = { label: "today until six", span: { fromMs: NOW, untilMs: at("23T17:00") } };
    const longer = ask(
      { ...short, board: board({ openings: [] }) },
      partOf([dip("a", { long: FOUR })]),
      {
        extraOpenings: [evening],
      },
    );
    expect(longer.wouldHelp).toMatchObject([
      { kind: "OPEN", opening: evening, gainedHours: null, gainedDays: null },
    ]);
  });
});

describe("the day the clocks change", () => {
  const weekend = [6, 7].map((weekday) => ({ weekday, opensMinute: 480, closesMinute: 1020 }));
  const openAt = (nowMs: number): { board: Board; loads: BoardLoad[] } => {
    const horizonMs = nowMs + 3 * 24 * HOUR;
    const calendar = { timeZone: "Europe/Berlin", hours: weekend, closedDays: [] };
    return shop({ nowMs, horizonMs, openings: openingsBetween(calendar, nowMs, horizonMs) });
  };
  const long = partOf([dip("a", { long: { hours: 10, currentA: 5 } })]);

  // Loaded at 16:00, done ten hours after 16:15; the shop opens at 08:00 by the clock on the wall.
  it.each([
    ["spring", "2026-03-28T15:00Z", "2026-03-29T06:45Z", 4.75],
    ["autumn", "2026-10-24T14:00Z", "2026-10-25T07:45Z", 6.75],
  ])("pulls at the wall's eight in %s", (_season, now, done, hours) => {
    const { slot, whyNotEarlier } = ask(openAt(Date.parse(now)), long);
    expect(slot).toMatchObject({ doneMs: Date.parse(done), day: done.slice(0, 10) });
    expect(whyNotEarlier[0]?.waitsForPull).toEqual({ hours, because: "SHUT" });
  });
});

describe("why it is not earlier", () => {
  it("names the load that has the tank, the gap that is too short, and the night", () => {
    const on = shop();
    book(on, "x", "long", NOW, { hours: 1, currentA: 5 });
    book(on, "y", "long", at("23T10:00"), { hours: 5, currentA: 5 });
    const answer = ask(on, partOf([dip("a", { long: FOUR })]));
    expect(answer.whyNotEarlier[0]?.heldBack).toEqual([
      { kind: "TANK_BUSY", tankId: "long", byId: "x", fromMs: NOW, untilMs: at("23T08:30") },
      {
        kind: "GAP_TOO_SHORT",
        tankId: "long",
        nextId: "y",
        shortHours: 3,
        fromMs: at("23T08:30"),
        untilMs: at("23T10:00"),
      },
      {
        kind: "TANK_BUSY",
        tankId: "long",
        byId: "y",
        fromMs: at("23T10:00"),
        untilMs: at("23T15:30"),
      },
    ]);
    expect(answer.whyNotEarlier[0]?.waitsForPull).toEqual({ hours: 11.25, because: "SHUT" });
  });

  it("says until when the shop is shut", () => {
    const answer = ask(shop({ nowMs: at("21T12:00") }), partOf([dip("a", { long: FOUR })]));
    expect(answer.whyNotEarlier[0]?.heldBack).toEqual([
      { kind: "SHUT", fromMs: at("21T12:00"), untilMs: NOW },
    ]);
  });

  it("names the release", () => {
    const late = dip("a", { long: FOUR }, { releaseMs: at("23T09:05") });
    expect(ask(shop(), partOf([late])).whyNotEarlier[0]?.heldBack).toEqual([
      { kind: "RELEASE", fromMs: NOW, untilMs: at("23T09:15") },
    ]);
  });

  it("names what draws from the supply, and how much is missing", () => {
    const on = shop();
    book(on, "x", "short", NOW, { hours: 2, currentA: 18 });
    const answer = ask(on, partOf([dip("a", { long: FOUR })]));
    expect(answer.whyNotEarlier[0]?.heldBack).toEqual([
      {
        kind: "SUPPLY_FULL",
        supplyId: "big",
        byIds: ["x"],
        shortA: 3,
        fromMs: NOW,
        untilMs: at("23T09:30"),
      },
    ]);
  });

  it("names what keeps the hands", () => {
    const on = shop({
      hands: 1,
      held: [
        {
          id: "bath change",
          tankId: "short",
          currentA: 0,
          fromMs: NOW,
          untilMs: at("23T09:00"),
          attended: [{ fromMs: NOW, untilMs: at("23T09:00") }],
        },
      ],
    });
    expect(ask(on, partOf([dip("a", { long: FOUR })])).whyNotEarlier[0]?.heldBack).toEqual([
      { kind: "HANDS_TAKEN", byIds: ["bath change"], fromMs: NOW, untilMs: at("23T09:00") },
    ]);
  });

  it("says that the pull waits for hands", () => {
    const on = shop({ hands: 1 });
    book(on, "x", "short", NOW, FOUR);
    const answer = ask(on, partOf([dip("a", { long: { hours: 3.75, currentA: 5 } })]));
    expect(answer.whyNotEarlier[0]?.waitsForPull).toEqual({ hours: 0.75, because: "HANDS_TAKEN" });
  });
});

describe("what would help", () => {
  const rush = (id: string): Partial<NewPart> => ({
    job: { id, dueMs: null, weight: 5, heldUntilMs: null },
  });

  it("opens on Saturday", () => {
    const on = shop();
    book(on, "x", "long", NOW, { hours: 100, currentA: 5 });
    const saturday = {
      label: "Saturday",
      span: { fromMs: at("28T07:00"), untilMs: at("28T16:00") },
    };
    const answer = ask(on, partOf([dip("a", { long: FOUR })]), { extraOpenings: [saturday] });
    expect(answer.slot?.day).toBe("2026-11-30");
    expect(answer.wouldHelp).toMatchObject([
      { kind: "OPEN", opening: saturday, slot: { day: "2026-11-28" }, gainedDays: 2 },
    ]);
  });

  it("gives the tank a supply of its own", () => {
    const on = shop();
    book(on, "x", "short", NOW, { hours: 4, currentA: 18 });
    const answer = ask(on, partOf([dip("a", { long: FOUR })]));
    expect(answer.wouldHelp).toMatchObject([
      { kind: "SUPPLY", tankId: "long", slot: { doneMs: at("23T12:00") } },
    ]);
  });

  it("has one more pair of hands", () => {
    const attended = [{ fromMs: NOW, untilMs: at("23T10:00") }];
    const held = {
      id: "x",
      tankId: "short",
      currentA: 0,
      fromMs: NOW,
      untilMs: at("23T10:00"),
      attended,
    };
    const answer = ask(shop({ hands: 1, held: [held] }), partOf([dip("a", { long: FOUR })]));
    expect(answer.wouldHelp).toMatchObject([{ kind: "HANDS", gainedHours: 3, gainedDays: 0 }]);
  });

  it("shares a booked load, and says what becomes of it", () => {
    const on = shop({
      share: (_tank, ids) => (ids.length === 2 ? { hours: 5, currentA: 9 } : null),
    });
    book(on, "x", "long", at("23T08:00"), FOUR);
    const joinable = new Map([["long", ["x"]]]);
    const answer = ask(on, partOf([dip("a", { long: FOUR })], { joinable }));
    expect(answer.slot?.day).toBe("2026-11-24");
    expect(answer.wouldHelp).toMatchObject([
      {
        kind: "SHARE",
        slot: { day: "2026-11-23", loads: [{ id: "x", dipIds: ["dip x", "a"] }] },
        moved: [
          { from: { endsAtMs: at("23T12:30") }, to: { endsAtMs: at("23T13:30") }, lateJobIds: [] },
        ],
      },
    ]);
  });

  it("does not share what would run into the next load", () => {
    const on = shop({ share: () => ({ hours: 5, currentA: 9 }) });
    book(on, "x", "long", at("23T08:00"), FOUR);
    book(on, "y", "long", at("23T12:30"), FOUR);
    const joinable = new Map([["long", ["x"]]]);
    expect(ask(on, partOf([dip("a", { long: FOUR })], { joinable })).wouldHelp).toEqual([]);
  });

  it("lets a lighter load give way, and says whether its job keeps its day", () => {
    const on = shop();
    book(on, "x", "long", at("23T08:00"), FOUR, { dueMs: at("24T23:00"), weight: 1 });
    book(on, "y", "long", at("23T12:30"), { hours: 30, currentA: 5 }, { weight: 9 });
    const part = partOf([dip("a", { long: FOUR })], rush("job of a"));
    expect(ask(on, part).wouldHelp).toEqual([]);
    const answer = ask(on, part, { mayGiveWay: new Set(["x", "y"]) });
    expect(answer.wouldHelp).toMatchObject([
      {
        kind: "GIVE_WAY",
        slot: { doneMs: at("23T12:00") },
        moved: [{ from: { id: "x" }, to: { id: "x" }, lateJobIds: ["job x"] }],
      },
    ]);
  });

  it("also offers the soonest that makes nobody late", () => {
    const on = shop({ supplies: [{ id: "big", ratingA: 100 }] });
    book(on, "x", "long", at("23T08:00"), FOUR, { dueMs: at("23T23:00"), weight: 1 });
    book(on, "y", "short", at("23T08:30"), FOUR, { dueMs: at("29T23:00"), weight: 1 });
    const part = partOf(
      [dip("a", { long: FOUR, short: { hours: 6, currentA: 5 } })],
      rush("job of a"),
    );
    const { wouldHelp } = ask(on, part, { mayGiveWay: new Set(["x", "y"]) });
    expect(wouldHelp).toMatchObject([
      { kind: "GIVE_WAY", moved: [{ lateJobIds: ["job x"] }] },
      { kind: "GIVE_WAY", moved: [{ from: { id: "y" }, lateJobIds: [] }] },
    ]);
  });
});

describe("refuses", () => {
  it("a share that is none, and ends in the wrong order", () => {
    const one = dip("a", { long: FOUR });
    expect(() => ask(shop(), partOf([one]), { medianShare: 1.5 })).toThrow(/share of P50/);
    expect(() => ask(shop(), partOf([one, dip("b", { long: FOUR })]))).toThrow(/wait for a/);
  });
});
