import { describe, expect, it } from "vitest";
import { clockOf } from "./clock";
import { alongPx, boxOf, hourMarks, instantAt, layoutFor, shutSpans, snapped } from "./geometry";

const HOUR = 3_600_000;
const at = (text: string): number => Date.parse(text);
const dublin = clockOf({ timeZone: "Europe/Dublin", locale: "en-IE" });
const room = { width: 1440, height: 800 };

/** Clocks go forward in Dublin on 29 March 2026 and back on 25 October, both at 01:00 UTC. */
const SHORT_DAY = { fromMs: at("2026-03-29T00:00Z"), untilMs: at("2026-03-29T23:00Z") };
const LONG_DAY = { fromMs: at("2026-10-24T23:00Z"), untilMs: at("2026-10-26T00:00Z") };

const day = (span: typeof SHORT_DAY) => layoutFor("day", room, { ...span, lanes: [1, 2] });

describe("a day on which the clocks change", () => {
  it("is 23 or 25 hours long, and every hour as long as any other", () => {
    for (const [span, hours] of [
      [SHORT_DAY, 23],
      [LONG_DAY, 25],
    ] as const) {
      const layout = { ...day(span), pxPerHour: 50 };
      expect(alongPx(span.untilMs, span.fromMs, layout)).toBe(hours * 50);
    }
  });

  it("has the hours of the wall on its scale: one is left out, or comes twice", () => {
    const labels = (span: typeof SHORT_DAY) =>
      hourMarks(span, day(span), dublin).map(({ label }) => label);
    expect(labels(SHORT_DAY).slice(0, 3)).toEqual(["02:00", "03:00", "04:00"]);
    expect(labels(LONG_DAY).slice(0, 3)).toEqual(["01:00", "01:00", "02:00"]);
  });
});

describe("places", () => {
  it("turn back into their instants", () => {
    const layout = day(SHORT_DAY);
    const noon = at("2026-03-29T12:00Z");
    const px = alongPx(noon, SHORT_DAY.fromMs, layout);
    expect(instantAt(px, SHORT_DAY.fromMs, layout)).toBeCloseTo(noon, 3);
    expect(snapped(noon + 140_000, 300_000)).toBe(noon);
    expect(snapped(noon + 160_000, 300_000)).toBe(noon + 300_000);
  });

  it("are cut to what is shown", () => {
    const layout = { ...day(SHORT_DAY), pxPerHour: 10 };
    const shown = { fromMs: 0, untilMs: 10 * HOUR };
    expect(boxOf({ fromMs: -HOUR, untilMs: 2 * HOUR }, shown, layout)).toEqual({
      along: 0,
      size: 20,
    });
    expect(boxOf({ fromMs: 11 * HOUR, untilMs: 12 * HOUR }, shown, layout)).toBeNull();
  });
});

describe("hours shut", () => {
  it("are all that is not open", () => {
    const shown = { fromMs: 0, untilMs: 100 };
    const openings = [
      { fromMs: -5, untilMs: 10 },
      { fromMs: 20, untilMs: 30 },
      { fromMs: 120, untilMs: 130 },
    ];
    expect(shutSpans(openings, shown)).toEqual([
      { fromMs: 10, untilMs: 20 },
      { fromMs: 30, untilMs: 100 },
    ]);
    expect(shutSpans([], shown)).toEqual([shown]);
    expect(shutSpans([shown], shown)).toEqual([]);
  });
});

describe("the layout", () => {
  it("fills a wide room, and stands upright on a phone", () => {
    const wide = layoutFor("week", room, { fromMs: 0, untilMs: 168 * HOUR, lanes: [1, 2, 3, 4] });
    expect(wide.upright).toBe(false);
    expect(168 * wide.pxPerHour + wide.headPx).toBeCloseTo(1440, 6);
    expect(4 * wide.lanePx).toBeLessThanOrEqual(800);
    const phone = layoutFor(
      "day",
      { width: 390, height: 700 },
      { fromMs: 0, untilMs: 24 * HOUR, lanes: [1, 2, 3] },
    );
    expect(phone).toMatchObject({ upright: true, pxPerHour: 64 });
    expect(phone.scalePx + 3 * phone.lanePx).toBeLessThanOrEqual(390);
  });
});
