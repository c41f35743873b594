import { describe, expect, it } from "vitest";
import { aBoard, aHold, aLane, aPart, aRun, HOUR } from "@/test/support/time-board";
import { clockOf } from "./clock";
import { faultWords, namerOf, promiseWords } from "./fault-words";
import { handAfter, type HandAct, type InHand } from "./moving";
import { problemOf, tryHand } from "./problem";

const clock = clockOf({ timeZone: "UTC", locale: "en-GB" });
const RUN = aRun({ id: "a", number: 1, startsAtMs: 8 * HOUR, endsAtMs: 12.5 * HOUR });
const OTHER = aRun({
  id: "b",
  number: 2,
  startsAtMs: 13 * HOUR,
  endsAtMs: 17.5 * HOUR,
  currentA: 7,
  parts: [aPart({ dipId: "other dip", description: "Skillet" })],
});
const NEEDS = { hours: 4, currentA: 5 };

function held(...acts: readonly HandAct[]): InHand {
  const { id, number, sequence, startsAtMs, endsAtMs } = RUN;
  const lift = {
    kind: "lift",
    run: { id, number, sequence, tankId: "tank", startsAtMs, endsAtMs },
  } as const;
  const grid = { stepMs: 300_000, tankIds: ["tank", "tub"] };
  const hand = [lift, ...acts].reduce<InHand | null>((at, act) => handAfter(at, act, grid), null);
  if (!hand) throw new Error("something is in the hand");
  return hand;
}

function wordsOf(board: ReturnType<typeof aBoard>, hand: InHand, nowMs = 0): string[] {
  const trial = tryHand(problemOf(board, nowMs), hand, RUN, NEEDS);
  return trial.faults.map((fault) => faultWords(fault, namerOf(board), clock).words);
}

const both = aBoard({
  hands: 2,
  lanes: [aLane({ runs: [RUN] }), aLane({ tankId: "tub", runs: [OTHER] })],
});

describe("a run in the hand, against the rules", () => {
  it("breaks nothing where it lies", () => {
    expect(wordsOf(both, held())).toEqual([]);
  });

  it("is pulled when somebody is there, and its end follows", () => {
    const trial = tryHand(problemOf(both, 0), held({ kind: "shift", byMs: 7 * HOUR }), RUN, NEEDS);
    expect(trial.times).toMatchObject({ startsAtMs: 15 * HOUR, pullAtMs: 32 * HOUR });
  });

  it("is told who is in the other tank", () => {
    expect(wordsOf(both, held({ kind: "lane", by: 1 }))).toEqual([]);
    const late = held({ kind: "carry", tankId: "tub", startsAtMs: 12 * HOUR });
    expect(wordsOf(both, late)[0]).toBe(
      "Run 2 (Skillet) is in the tank from Thu 1 Jan 13:00 to Thu 1 Jan 16:25.",
    );
  });

  it("is told that the supply gives no more, in amperes, and beside whom", () => {
    const words = wordsOf(both, held({ kind: "shift", byMs: 2 * HOUR }));
    expect(words).toEqual([
      "From Thu 1 Jan 13:00 the supply would have to give 12 A, and gives 10 A without end, beside run 2 (Skillet).",
    ]);
  });

  it("is told that the shop is shut, or that the time is past", () => {
    expect(wordsOf(both, held({ kind: "shift", byMs: -2 * HOUR }))).toEqual([
      "Nobody is there to load at Thu 1 Jan 06:00.",
    ]);
    expect(wordsOf(both, held(), 9 * HOUR)).toEqual(["That time is past."]);
  });

  it("is told how much too short a stretch is", () => {
    const short = held({ kind: "pull end", endsAtMs: 11.5 * HOUR });
    expect(wordsOf(both, short)).toEqual(["That is 55 min too short for what its plans ask."]);
  });

  it("is told that hands are full, which may be minded and done all the same", () => {
    const alone = { ...both, hands: 1, supplies: [{ id: "supply", name: "", ratingA: 50 }] };
    const trial = tryHand(
      problemOf(alone, 0),
      held({ kind: "carry", startsAtMs: 13 * HOUR }),
      RUN,
      NEEDS,
    );
    const said = trial.faults.map((fault) => faultWords(fault, namerOf(alone), clock));
    expect(said.map(({ refused }) => refused)).toEqual([false, false]);
    expect(said[0]?.words).toBe(
      "At Thu 1 Jan 13:00 everybody has their hands full, beside run 2 (Skillet): the load would wait.",
    );
  });

  it("finds the tank held by other work, unless that is done", () => {
    const hold = aHold({ startsAtMs: 9 * HOUR, endsAtMs: 10 * HOUR });
    const held1 = aBoard({ hands: 3, lanes: [aLane({ runs: [RUN], holds: [hold] })] });
    expect(wordsOf(held1, held())).toEqual([
      "The bath change is in the tank from Thu 1 Jan 09:00 to Thu 1 Jan 10:00.",
    ]);
    const done = aBoard({ lanes: [aLane({ runs: [RUN], holds: [{ ...hold, done: true }] })] });
    expect(wordsOf(done, held())).toEqual([]);
  });
});

describe("a promise", () => {
  it("is minded, never refused", () => {
    expect(promiseWords(0)).toEqual([]);
    expect(promiseWords(2)).toEqual([
      { words: "It would be off the bench 2 days after the promised one.", refused: false },
    ]);
  });
});
