import { describe, expect, it } from "vitest";
import { type DipOutcome, episodesOf, type PastDip, type PullTiming, timeNeeded } from "./outcome";

const dip = (ratio: number, outcome: DipOutcome, timing: PullTiming = null): PastDip => ({
  ratio,
  outcome,
  timing,
});
const timesNeeded = (dips: readonly PastDip[]) =>
  episodesOf(dips).flatMap((episode) => timeNeeded(episode) ?? []);
const NEVER = Number.POSITIVE_INFINITY;

describe("the time that a part needed", () => {
  it.each(["CLEAN", "PARTLY"] as const)("is known when it was just %s", (outcome) => {
    expect(timesNeeded([dip(1.3, outcome, "JUST_CLEAN")])).toEqual([{ least: 1.3, most: 1.3 }]);
  });

  it("is anything up to the pull when it had been clean for a while", () => {
    expect(timesNeeded([dip(1.3, "CLEAN", "LONG_CLEAN")])).toEqual([{ least: 0, most: 1.3 }]);
  });

  it("is in the second half of its time where nobody is sure", () => {
    expect(timesNeeded([dip(0.8, "CLEAN")])).toEqual([{ least: 0.4, most: 0.8 }]);
    expect(timesNeeded([dip(1, "PARTLY")])).toEqual([{ least: 0.5, most: 1 }]);
  });

  it("is from half of the model's time on where nobody is sure of a part left in longer", () => {
    expect(timesNeeded([dip(6.4, "CLEAN")])).toEqual([{ least: 0.5, most: 6.4 }]);
  });

  it("is more than so far while it must go in again", () => {
    expect(timesNeeded([dip(0.8, "AGAIN")])).toEqual([{ least: 0.8, most: NEVER }]);
    expect(timesNeeded([dip(0.8, "AGAIN"), dip(0.5, "AGAIN")])).toEqual([
      { least: 1.3, most: NEVER },
    ]);
  });

  it("adds up over the dips of a part that went in again, and was not clean before the last", () => {
    const before = dip(0.75, "AGAIN");
    expect(timesNeeded([before, dip(0.5, "CLEAN", "JUST_CLEAN")])).toEqual([
      { least: 1.25, most: 1.25 },
    ]);
    expect(timesNeeded([before, dip(0.5, "CLEAN", "LONG_CLEAN")])).toEqual([
      { least: 0.75, most: 1.25 },
    ]);
    expect(timesNeeded([before, dip(0.5, "CLEAN")])).toEqual([{ least: 0.75, most: 1.25 }]);
    expect(timesNeeded([dip(0.25, "AGAIN"), dip(1.75, "CLEAN")])).toEqual([
      { least: 0.5, most: 2 },
    ]);
  });

  it("begins anew after a part that was clean", () => {
    expect(
      timesNeeded([
        dip(1, "CLEAN", "JUST_CLEAN"),
        dip(0.25, "AGAIN"),
        dip(0.5, "PARTLY", "JUST_CLEAN"),
      ]),
    ).toEqual([
      { least: 1, most: 1 },
      { least: 0.75, most: 0.75 },
    ]);
  });

  it("is not told by a damaged part, save that it was not clean before", () => {
    expect(timesNeeded([dip(1, "DAMAGED")])).toEqual([]);
    expect(timesNeeded([dip(0.5, "AGAIN"), dip(1, "DAMAGED")])).toEqual([
      { least: 0.5, most: NEVER },
    ]);
    expect(timesNeeded([dip(0.5, "AGAIN"), dip(1, "DAMAGED"), dip(2, "AGAIN")])).toEqual([
      { least: 0.5, most: NEVER },
      { least: 2, most: NEVER },
    ]);
  });

  it("is told by no dip", () => {
    expect(timesNeeded([])).toEqual([]);
    expect(timeNeeded([])).toBeNull();
  });
});
