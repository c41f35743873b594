import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clashWith, nextFreeSlots, openingsBetween, slotAt, type Slot, type Span } from "./index";

const at = (text: string): number => Date.parse(text);
const text = (ms: number | undefined): string => new Date(ms ?? 0).toISOString().slice(0, 16);
const HOUR = 3_600_000;

/** Mondays to Fridays, 08:00 to 17:00, in a zone. */
const openings = (from: string, until: string, timeZone = "UTC"): readonly Span[] =>
  openingsBetween(
    {
      timeZone,
      hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, opensMinute: 480, closesMinute: 1020 })),
      closedDays: [],
    },
    at(from),
    at(until),
  );

const WEEK = openings("2026-11-23T00:00Z", "2026-12-12T00:00Z");
const search = {
  busy: [] as readonly Span[],
  openings: WEEK,
  hours: 4,
  loadMinutes: 15,
  pullMinutes: 10,
  afterMs: at("2026-11-23T07:00Z"),
  horizonMs: at("2026-12-11T00:00Z"),
};

describe("nextFreeSlots", () => {
  it("loads when the shop opens, and pulls when the treatment is over", () => {
    const [slot] = nextFreeSlots(search);
    expect(text(slot?.startsAtMs)).toBe("2026-11-23T08:00");
    expect(text(slot?.currentOnMs)).toBe("2026-11-23T08:15");
    expect(text(slot?.pullAtMs)).toBe("2026-11-23T12:15");
    expect(text(slot?.endsAtMs)).toBe("2026-11-23T12:25");
    expect(slot?.reasons).toEqual([{ kind: "SHUT", untilMs: at("2026-11-23T08:00Z") }]);
  });

  it("lets a treatment run on overnight, and waits for somebody to pull", () => {
    const [slot] = nextFreeSlots({ ...search, hours: 10 });
    expect(text(slot?.treatedAtMs)).toBe("2026-11-23T18:15");
    expect(text(slot?.pullAtMs)).toBe("2026-11-24T08:00");
    expect(slot?.reasons).toContainEqual({ kind: "WAITS_FOR_PULL", hours: 13.75 });
  });

  it("does not wait when a long treatment ends within hours", () => {
    const [slot] = nextFreeSlots({ ...search, hours: 25 });
    expect(text(slot?.pullAtMs)).toBe("2026-11-24T09:15");
    expect(slot?.reasons).not.toContainEqual(expect.objectContaining({ kind: "WAITS_FOR_PULL" }));
  });

  it("waits over the weekend", () => {
    const [slot] = nextFreeSlots({ ...search, afterMs: at("2026-11-27T16:00Z"), hours: 4 });
    expect(text(slot?.startsAtMs)).toBe("2026-11-27T16:00");
    expect(text(slot?.pullAtMs)).toBe("2026-11-30T08:00");
  });

  it("does not start a loading that would reach past closing", () => {
    const [slot] = nextFreeSlots({ ...search, afterMs: at("2026-11-23T16:50Z") });
    expect(text(slot?.startsAtMs)).toBe("2026-11-24T08:00");
  });

  it("goes in the moment another comes out, and says what held it back", () => {
    const busy = [{ fromMs: at("2026-11-23T08:00Z"), untilMs: at("2026-11-23T10:30Z") }];
    const [slot] = nextFreeSlots({ ...search, busy });
    expect(text(slot?.startsAtMs)).toBe("2026-11-23T10:30");
    expect(slot?.reasons).toEqual([{ kind: "TANK_BUSY", untilMs: at("2026-11-23T10:30Z") }]);
  });

  it("says when a gap is too short for the load", () => {
    const busy = [{ fromMs: at("2026-11-23T11:00Z"), untilMs: at("2026-11-23T15:00Z") }];
    const [slot] = nextFreeSlots({ ...search, busy });
    expect(text(slot?.startsAtMs)).toBe("2026-11-23T15:00");
    expect(slot?.reasons).toContainEqual({
      kind: "NEXT_LOAD_TOO_SOON",
      nextLoadMs: at("2026-11-23T11:00Z"),
    });
  });

  it("offers as many as asked, one for each opening, and none past the horizon", () => {
    expect(nextFreeSlots({ ...search, count: 3 }).map((slot) => text(slot.startsAtMs))).toEqual([
      "2026-11-23T08:00",
      "2026-11-24T08:00",
      "2026-11-25T08:00",
    ]);
    expect(nextFreeSlots({ ...search, hours: 2000 })).toEqual([]);
  });

  it("counts real hours over a change of the clocks: Berlin, the last Sunday of March", () => {
    const [slot] = nextFreeSlots({
      ...search,
      openings: openings("2026-03-26T00:00Z", "2026-04-02T00:00Z", "Europe/Berlin"),
      afterMs: at("2026-03-27T15:00Z"),
      horizonMs: at("2026-04-02T00:00Z"),
      hours: 64,
    });
    // Friday 16:15 CET + 64 h = Monday 09:15 CEST: a wall clock shows 65 h more.
    expect(text(slot?.pullAtMs)).toBe("2026-03-30T07:15");
  });

  it("refuses hours that are not above zero", () => {
    expect(() => nextFreeSlots({ ...search, hours: 0 })).toThrow(RangeError);
  });

  it("keeps every promise: attended at both ends, never in another load, long enough", () => {
    const spans = fc.array(
      fc.record({
        start: fc.integer({ min: 0, max: 400 }),
        hours: fc.integer({ min: 1, max: 30 }),
      }),
      { maxLength: 8 },
    );
    fc.assert(
      fc.property(spans, fc.double({ min: 0.25, max: 60, noNaN: true }), (loads, hours) => {
        const busy = loads.map((load) => ({
          fromMs: search.afterMs + load.start * HOUR,
          untilMs: search.afterMs + (load.start + load.hours) * HOUR,
        }));
        for (const slot of nextFreeSlots({ ...search, busy, hours })) {
          expect(clashWith(slot, busy)).toBeNull();
          expect(slot.endsAtMs).toBeLessThanOrEqual(search.horizonMs);
          expect(slot.pullAtMs - slot.currentOnMs).toBeGreaterThanOrEqual(hours * HOUR - 1);
          for (const [from, until] of attendedStretches(slot)) {
            expect(WEEK.some((o) => o.fromMs <= from && until <= o.untilMs)).toBe(true);
          }
        }
      }),
      { numRuns: 200 },
    );
  });
});

const attendedStretches = (slot: Slot): readonly (readonly [number, number])[] => [
  [slot.startsAtMs, slot.currentOnMs],
  [slot.pullAtMs, slot.endsAtMs],
];

describe("slotAt", () => {
  it("refuses a start when nobody is there for the whole loading", () => {
    const needs = { ...search };
    expect(slotAt(at("2026-11-23T07:59Z"), needs)).toBeNull();
    expect(slotAt(at("2026-11-23T16:50Z"), needs)).toBeNull();
    expect(slotAt(at("2026-11-23T16:45Z"), needs)).not.toBeNull();
  });
});
