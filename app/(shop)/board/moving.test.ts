import { describe, expect, it } from "vitest";
import { handAfter, hasMoved, type HandAct, type InHand, wishOf } from "./moving";

const STEP = 300_000;
const HOUR = 3_600_000;
const GRID = { stepMs: STEP, tankIds: ["long", "tub", "barrel"] };
const RUN = {
  id: "r",
  number: 12,
  sequence: 3,
  tankId: "tub",
  startsAtMs: 8 * HOUR,
  endsAtMs: 13 * HOUR,
};

const after = (...acts: readonly HandAct[]): InHand | null =>
  acts.reduce<InHand | null>((hand, act) => handAfter(hand, act, GRID), null);
const lift = { kind: "lift", run: RUN } as const;

describe("a run in the hand", () => {
  it("is where it was until it is carried", () => {
    const hand = after(lift);
    expect(hand && hasMoved(hand)).toBe(false);
    expect(hand).toMatchObject({ tankId: "tub", startsAtMs: 8 * HOUR, endsAtMs: 13 * HOUR });
  });

  it("moves by steps, its end follows", () => {
    expect(after(lift, { kind: "shift", byMs: STEP })).toMatchObject({
      startsAtMs: 8 * HOUR + STEP,
      endsAtMs: null,
    });
  });

  it("is as it was when carried back", () => {
    const hand = after(lift, { kind: "shift", byMs: STEP }, { kind: "shift", byMs: -STEP });
    expect(hand && hasMoved(hand)).toBe(false);
  });

  it("stops at the first and the last tank", () => {
    const down = { kind: "lane", by: 1 } as const;
    expect(after(lift, down, down, down)?.tankId).toBe("barrel");
    const up = { kind: "lane", by: -1 } as const;
    expect(after(lift, up, up)?.tankId).toBe("long");
  });

  it("snaps to the steps of the board, but keeps a start of its own that lies between them", () => {
    expect(after(lift, { kind: "carry", startsAtMs: 9 * HOUR + 140_000 })?.startsAtMs).toBe(
      9 * HOUR,
    );
    const odd = { ...RUN, startsAtMs: 8 * HOUR + 60_000 };
    const hand = after(
      { kind: "lift", run: odd },
      { kind: "carry", startsAtMs: 9 * HOUR },
      { kind: "carry", startsAtMs: odd.startsAtMs },
    );
    expect(hand && hasMoved(hand)).toBe(false);
  });

  it("is stretched by its end, never to before its start", () => {
    const longer = after(lift, { kind: "stretch", byMs: STEP, endsAtMs: 13 * HOUR });
    expect(longer).toMatchObject({ startsAtMs: 8 * HOUR, endsAtMs: 13 * HOUR + STEP });
    expect(after(lift, { kind: "pull end", endsAtMs: 0 })?.endsAtMs).toBe(8 * HOUR + STEP);
  });

  it("is gone when dropped, and nothing happens with an empty hand", () => {
    expect(after(lift, { kind: "drop" })).toBeNull();
    expect(after({ kind: "shift", byMs: STEP })).toBeNull();
  });
});

describe("keys", () => {
  const press = (key: string, held: { shiftKey?: boolean; altKey?: boolean } = {}) => ({
    key,
    shiftKey: false,
    altKey: false,
    ...held,
  });
  const across = { upright: false, stepMs: STEP };
  const upright = { upright: true, stepMs: STEP };

  it("move along time, by an hour with Shift", () => {
    expect(wishOf(press("ArrowRight"), across)).toEqual({ kind: "shift", byMs: STEP });
    expect(wishOf(press("ArrowLeft", { shiftKey: true }), across)).toEqual({
      kind: "shift",
      byMs: -HOUR,
    });
    expect(wishOf(press("ArrowDown"), upright)).toEqual({ kind: "shift", byMs: STEP });
  });

  it("go to another tank across time", () => {
    expect(wishOf(press("ArrowDown"), across)).toEqual({ kind: "lane", by: 1 });
    expect(wishOf(press("ArrowLeft"), upright)).toEqual({ kind: "lane", by: -1 });
  });

  it("stretch with Alt or brackets", () => {
    const longer = { kind: "end", byMs: STEP };
    expect(wishOf(press("ArrowRight", { altKey: true }), across)).toEqual(longer);
    expect(wishOf(press("]"), across)).toEqual(longer);
    expect(wishOf(press("{"), across)).toEqual({ kind: "end", byMs: -HOUR });
  });

  it("put down and give up, and leave every other key alone", () => {
    expect(wishOf(press("Enter"), across)).toEqual({ kind: "put" });
    expect(wishOf(press("Escape"), across)).toEqual({ kind: "give up" });
    expect(wishOf(press("Tab"), across)).toBeNull();
    expect(wishOf(press("a"), across)).toBeNull();
  });
});
