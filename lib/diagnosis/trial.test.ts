import { beforeAll, describe, expect, it } from "vitest";
import {
  afterItsCheck,
  BARE,
  FAULTS,
  first,
  isRight,
  likely,
  saidOf,
  share,
  type Tried,
  tryFaults,
  USUAL,
  WELL_KEPT,
} from "./simulate-trial";

describe("a well-kept tank", () => {
  let tried: readonly Tried[];
  beforeAll(() => {
    tried = tryFaults(FAULTS, 100, WELL_KEPT);
  }, 120_000);

  it("has the fault first in nine of ten", () => {
    expect(tried).toHaveLength(1200);
    expect(share(tried, isRight)).toBeGreaterThanOrEqual(0.9);
  });

  it("is told 'likely' in most cases, and then the cause is right in nineteen of twenty", () => {
    expect(share(tried, likely)).toBeGreaterThan(0.7);
    expect(share(tried.filter(likely), isRight)).toBeGreaterThanOrEqual(0.95);
  });

  it.each(FAULTS)("is found with %s in two of three at least", (fault) => {
    expect(
      share(
        tried.filter(({ run }) => run.fault === fault),
        isRight,
      ),
    ).toBeGreaterThan(0.66);
  });

  it.each([
    [0.3, 0.7],
    [0.7, 0.9],
    [0.9, 0.97],
    [0.97, 1],
  ])("is right as often as it says, where it says %d to %d", (from, until) => {
    const within = tried.filter(
      (one) => first(one) !== "AS_IT_SHOULD" && saidOf(one) >= from && saidOf(one) < until,
    );
    const said = within.reduce((sum, one) => sum + saidOf(one), 0) / within.length;
    expect(within.length).toBeGreaterThan(50);
    // Two and a half standard errors of so many runs.
    const error = Math.sqrt((said * (1 - said)) / within.length);
    expect(Math.abs(share(within, isRight) - said)).toBeLessThan(2.5 * error);
  });
});

describe("a tank with the usual records", () => {
  it("has the fault first in nine of ten after the one check that is asked for", () => {
    const tried = tryFaults(FAULTS, 50, USUAL);
    const before = share(tried, isRight);
    const after = share(tried.map(afterItsCheck), isRight);
    expect(before).toBeGreaterThan(0.85);
    expect(after).toBeGreaterThanOrEqual(0.9);
    expect(share(tried.filter(likely), isRight)).toBeGreaterThanOrEqual(0.93);
  }, 120_000);
});

describe("a tank of which only volts and amps are known", () => {
  it("makes the diagnosis say that it is not sure rather than guess", () => {
    const tried = tryFaults(FAULTS, 40, BARE);
    expect(share(tried, isRight)).toBeLessThan(0.85);
    expect(share(tried, ({ told }) => told.verdict === "not sure")).toBeGreaterThan(0.15);
    expect(share(tried.filter(likely), isRight)).toBeGreaterThanOrEqual(0.9);
  }, 120_000);
});

describe("a sound tank", () => {
  it.each([
    ["well kept", WELL_KEPT],
    ["with the usual records", USUAL],
    ["new", BARE],
  ])(
    "%s gives a false alarm in one of twenty at most",
    (_what, records) => {
      const tried = tryFaults(["AS_IT_SHOULD"], 200, records);
      expect(share(tried, ({ told }) => told.verdict !== "as expected")).toBeLessThanOrEqual(0.05);
    },
    120_000,
  );
});
