import { describe, expect, it } from "vitest";
import { cutsOf, levels, liquidAcross, stretchesOf, waterline } from "./run-shape";

const HOUR = 3_600_000;
const BENCH = { loadMinutes: 15, pullMinutes: 10 };
const RUN = {
  startsAtMs: 0,
  endsAtMs: 17 * HOUR,
  treatHours: 5,
  benchMinutes: 30,
  state: "PLANNED",
} as const;

describe("a run's stretches", () => {
  it("tell treatment from the wait for somebody to pull", () => {
    expect(stretchesOf(RUN, BENCH, 0)).toEqual({
      startsAtMs: 0,
      loadedAtMs: HOUR / 4,
      treatedAtMs: 5.25 * HOUR,
      pullAtMs: 17 * HOUR - HOUR / 6,
      endsAtMs: 17 * HOUR,
      benchUntilMs: 17.5 * HOUR,
    });
  });

  it("go on until now where a running load should be out", () => {
    const late = stretchesOf({ ...RUN, state: "RUNNING" }, BENCH, 20 * HOUR);
    expect(late).toMatchObject({ endsAtMs: 20 * HOUR, pullAtMs: 20 * HOUR });
    expect(stretchesOf({ ...RUN, state: "PULLED" }, BENCH, 20 * HOUR).endsAtMs).toBe(17 * HOUR);
  });

  it("never fall, however short the run was", () => {
    for (const endsAtMs of [-5, 0, 1, HOUR / 10, HOUR / 4, HOUR, 6 * HOUR]) {
      for (const state of ["PLANNED", "RUNNING", "PULLED"] as const) {
        const all = Object.values(stretchesOf({ ...RUN, endsAtMs, state }, BENCH, 2 * HOUR));
        expect(all).toEqual([...all].sort((a, b) => a - b));
      }
    }
  });
});

describe("the drawing", () => {
  it("lets the liquid sink where the load only waits", () => {
    const cuts = cutsOf(stretchesOf(RUN, BENCH, 0), 10);
    const { high, low } = levels(100);
    expect(cuts).toMatchObject({ loaded: 2.5, treated: 52.5, end: 170, bench: 175 });
    expect(liquidAcross(cuts, 100)).toContain(` ${low.toFixed(2)} `);
    expect(high).toBeLessThan(low);
    const busy = cutsOf(stretchesOf({ ...RUN, endsAtMs: 5.25 * HOUR }, BENCH, 0), 10);
    expect(liquidAcross(busy, 100)).not.toContain(` ${low.toFixed(2)} `);
  });

  it("has waves only where it bubbles and there is room for one", () => {
    expect(waterline(0, 100, 20, false)).toBe("M 0 20 H 100");
    expect(waterline(0, 10, 20, true)).toBe("M 0 20 H 10");
    expect(waterline(0, 96, 20, true).match(/ t /g)).toHaveLength(7);
  });
});
