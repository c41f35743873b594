import { describe, expect, it } from "vitest";
import { afterUndo, backOf, type Done } from "./undo";

const place = (tankId: string, startsAtMs: number) => ({
  tankId,
  startsAtMs,
  endsAtMs: startsAtMs + 10,
});
const DONE: Done = {
  runId: "r",
  number: 12,
  before: place("tub", 100),
  after: place("long", 200),
  sequence: 4,
};

describe("taking a move back", () => {
  it("is a move to where the run was, for as long as it was", () => {
    expect(backOf(DONE, null)).toEqual({
      runId: "r",
      tankId: "tub",
      startsAt: 100,
      endsAt: 110,
      sequence: 4,
    });
  });

  it("is not hindered by marks that were set meanwhile", () => {
    expect(backOf(DONE, { ...DONE.after, sequence: 6 })).toMatchObject({ sequence: 6 });
  });

  it("leaves alone what somebody moved on", () => {
    expect(backOf(DONE, { ...place("long", 300), sequence: 6 })).toBe(
      "Run 12 was moved on by somebody since. It stays where it is.",
    );
  });

  it("lets the move before it be taken back too", () => {
    const first = { ...DONE, before: place("barrel", 0), after: place("tub", 100), sequence: 3 };
    const left = afterUndo([first, DONE], { runId: "r", sequence: 5 });
    expect(left).toEqual([{ ...first, sequence: 5 }]);
  });
});
