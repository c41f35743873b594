import { describe, expect, it } from "vitest";
import {
  boardOf,
  dipOf,
  HOUR_MS,
  loadOf,
  MIDNIGHT_MS,
  MINUTE_MS,
} from "../../test/support/board-of";
import { type Board, faultsOf } from "./index";

const at = (hour: number): number => MIDNIGHT_MS + hour * HOUR_MS;
const span = (fromH: number, untilH: number) => ({ fromMs: at(fromH), untilMs: at(untilH) });
const needs = (hours: number, currentA = 1) => ({ hours, currentA });

const twoTanks: Pick<Board, "tanks" | "dips"> = {
  tanks: [
    { id: "t0", supplyId: "s0" },
    { id: "t1", supplyId: "s0" },
  ],
  dips: ["a", "b", "c"].map((id) => dipOf(id, needs(2), ["t0", "t1"])),
};

describe("faultsOf", () => {
  it("finds nothing wrong with a load that begins as another ends, and leaves the load itself out", () => {
    const board = boardOf(twoTanks);
    const load = loadOf("b", 4, 6);
    expect(faultsOf(board, [loadOf("a", 2, 4), load, loadOf("c", 6, 8)], load)).toEqual([]);
  });

  it("names what else is in the tank, and for how long both would be", () => {
    const held = [{ id: "h", tankId: "t0", currentA: 0, attended: [], ...span(9, 11) }];
    const board = boardOf({ ...twoTanks, held });
    expect(faultsOf(board, [loadOf("a", 2, 5)], loadOf("b", 4, 10))).toEqual([
      { kind: "TANK", withId: "h", ...span(9, 10) },
      { kind: "TANK", withId: "a", ...span(4, 5) },
    ]);
    expect(faultsOf(board, [loadOf("a", 2, 5)], loadOf("b", 4, 10, { tankId: "t1" }))).toEqual([]);
  });

  it("sums what hangs on one supply at each instant", () => {
    const board = boardOf({ ...twoTanks, supplies: [{ id: "s0", ratingA: 10 }] });
    const beside = { tankId: "t1" };
    const others = [
      loadOf("a", 1, 3, { ...beside, needs: needs(2, 5) }),
      loadOf("c", 3, 6, { ...beside, needs: needs(3, 6) }),
    ];
    const fits = loadOf("b", 2, 8, { needs: needs(6, 4) });
    expect(faultsOf(board, others, fits)).toEqual([]);
    expect(faultsOf(board, others, { ...fits, needs: needs(6, 5.5) })).toEqual([
      { kind: "SUPPLY", withIds: ["a", "c"], amperes: 11.5, ratingA: 10, ...span(2, 6) },
    ]);
  });

  it("wants somebody there for the whole loading, pull and finish", () => {
    const openings = [span(8, 17), span(32, 41)];
    const dips = [dipOf("a", needs(2), ["t0"], { benchMinutes: 30 })];
    const board = boardOf({ openings, loadMinutes: 15, pullMinutes: 10, dips });
    const load = (fromH: number, pullH: number) =>
      loadOf("a", fromH, pullH, {
        needs: needs(1),
        endsAtMs: at(pullH) + 10 * MINUTE_MS,
        benchUntilMs: at(pullH) + 40 * MINUTE_MS,
      });
    expect(faultsOf(board, [], load(8, 16))).toEqual([]);
    expect(faultsOf(board, [], load(16.75, 32))).toEqual([]);
    expect(faultsOf(board, [], load(16.8, 32))).toMatchObject([{ kind: "SHUT", work: "load" }]);
    // Pulled in time, but bare iron would wait all night for its oil.
    expect(faultsOf(board, [], load(8, 16.5))).toEqual([
      { kind: "SHUT", work: "pull", fromMs: at(16.5), untilMs: at(16.5) + 40 * MINUTE_MS },
    ]);
  });

  it("lets a finish that no opening has room for fill the longest one", () => {
    const dips = [dipOf("a", needs(2), ["t0"], { benchMinutes: 600 })];
    const board = boardOf({ openings: [span(8, 12), span(32, 41)], pullMinutes: 10, dips });
    const load = loadOf("a", 8, 32, { endsAtMs: at(32) + 10 * MINUTE_MS });
    expect(faultsOf(board, [], load)).toEqual([]);
  });

  it("gives each pair of hands one thing to do at a time", () => {
    const board = boardOf({ ...twoTanks, loadMinutes: 60, hands: 1 });
    const other = loadOf("a", 2, 6, { tankId: "t1" });
    const load = (fromH: number) => loadOf("b", fromH, 8, { needs: needs(2) });
    expect(faultsOf(board, [other], load(2.5))).toEqual([
      { kind: "HANDS", work: "load", withIds: ["a"], fromMs: at(2.5), untilMs: at(3.5) },
    ]);
    expect(faultsOf(board, [other], load(3))).toEqual([]);
    expect(faultsOf({ ...board, hands: 2 }, [other], load(2.5))).toEqual([]);
    const bathChange = {
      id: "h",
      tankId: "t1",
      currentA: 0,
      attended: [span(3, 4)],
      ...span(3, 5),
    };
    expect(faultsOf({ ...board, held: [bathChange] }, [], load(3.5))).toMatchObject([
      { kind: "HANDS", withIds: ["h"] },
    ]);
  });

  it("wants hands for the finish as long as it lasts", () => {
    const dips = [dipOf("a", needs(2), ["t0"], { benchMinutes: 60 }), dipOf("b", needs(2), ["t1"])];
    const board = boardOf({ ...twoTanks, dips, loadMinutes: 15, hands: 1 });
    const other = loadOf("b", 5.5, 9, { tankId: "t1" });
    const load = loadOf("a", 2, 5, { needs: needs(2) });
    expect(faultsOf(board, [other], load)).toMatchObject([{ kind: "HANDS", work: "pull" }]);
  });

  it("refuses what begins before now or before its part is there", () => {
    const dips = [dipOf("a", needs(2), ["t0"], { releaseMs: at(6) })];
    const board = boardOf({ dips });
    expect(faultsOf(board, [], loadOf("a", 5, 7))).toEqual([
      { kind: "TOO_EARLY", notBeforeMs: at(6) },
    ]);
    expect(faultsOf({ ...board, nowMs: at(7) }, [], loadOf("a", 6, 8))).toMatchObject([
      { kind: "TOO_EARLY", notBeforeMs: at(7) },
    ]);
  });

  it("tells the end that goes in first, whichever of the two is moved", () => {
    const dips = [dipOf("a", needs(2)), dipOf("b", needs(2), ["t1"], { afterId: "a" })];
    const board = boardOf({ ...twoTanks, dips });
    const first = loadOf("a", 2, 4);
    const second = loadOf("b", 3, 5, { tankId: "t1" });
    const fault = { kind: "ORDER", afterDipId: "a", untilMs: at(4) };
    expect(faultsOf(board, [first], second)).toEqual([fault]);
    expect(faultsOf(board, [second], first)).toEqual([fault]);
    expect(faultsOf(board, [first], loadOf("b", 4, 6, { tankId: "t1" }))).toEqual([]);
    const both = loadOf("a", 2, 4, { dipIds: ["a", "b"] });
    expect(faultsOf(board, [], both)).toEqual([fault]);
  });

  it("refuses a load that is cut short or ends past what is planned", () => {
    const board = boardOf({ ...twoTanks, loadMinutes: 15, horizonMs: at(20) });
    expect(faultsOf(board, [], loadOf("a", 2, 4))).toEqual([{ kind: "TOO_SHORT", hours: 0.25 }]);
    const late = { ...board, openings: [span(0, 40)] };
    expect(faultsOf(late, [], loadOf("a", 17, 21, { needs: needs(2) }))).toEqual([
      { kind: "HORIZON", horizonMs: at(20) },
    ]);
  });
});
