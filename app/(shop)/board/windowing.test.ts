import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lanesIn, seenOn, shelfOf, windowAt } from "./windowing";

const HOUR = 3_600_000;

/** 3000 runs in 20 lanes over 35 days: a full board of a month. */
const LANES = Array.from({ length: 20 }, (_, lane) =>
  shelfOf(
    Array.from({ length: 150 }, (_, index) => {
      const fromMs = index * 5.6 * HOUR + lane * 600_000;
      return { id: `${lane}-${index}`, fromMs, untilMs: fromMs + 5 * HOUR };
    }),
  ),
);

describe("what of 3000 runs is in the page", () => {
  const dayPx = 24 * 44;

  it("is a few dozen in the view of a day, however far it is scrolled", () => {
    for (let scroll = 0; scroll < 34 * dayPx; scroll += 137) {
      const along = windowAt(scroll, 1200);
      const lanes = lanesIn(windowAt(0, 700), 120, LANES.length);
      const seen = LANES.slice(lanes.first, lanes.end).flatMap((shelf) =>
        seenOn(shelf, (along.from / 44) * HOUR, (along.until / 44) * HOUR),
      );
      expect(seen.length).toBeLessThan(lanes.end * 18);
    }
  });

  it("is found without looking at all of them", () => {
    const long = shelfOf(
      Array.from({ length: 100_000 }, (_, index) => ({ fromMs: index, untilMs: index + 1 })),
    );
    let reads = 0;
    const counted = {
      ...long,
      latest: new Proxy(long.latest, {
        get: (list, key) => {
          reads += 1;
          return Reflect.get(list, key) as unknown;
        },
      }),
    };
    expect(seenOn(counted, 50_000, 50_010)).toHaveLength(14);
    expect(reads).toBeLessThan(40);
  });

  it("never leaves out what is in view", () => {
    const stretch = fc
      .tuple(fc.integer({ min: 0, max: 1000 }), fc.integer({ min: 1, max: 300 }))
      .map(([fromMs, lasts]) => ({ fromMs, untilMs: fromMs + lasts }));
    fc.assert(
      fc.property(fc.array(stretch), stretch, (items, { fromMs, untilMs }) => {
        const seen = seenOn(shelfOf(items), fromMs, untilMs);
        const inView = items.filter((item) => item.untilMs > fromMs && item.fromMs < untilMs);
        for (const item of inView) expect(seen).toContain(item);
        expect(seen.length).toBeLessThanOrEqual(inView.length + 4);
        expect(seen).toEqual([...seen].sort((a, b) => a.fromMs - b.fromMs));
      }),
    );
  });
});

describe("the window", () => {
  it("always holds the view, and stands still for a quarter of a view", () => {
    for (let scroll = 0; scroll < 5000; scroll += 7) {
      const { from, until } = windowAt(scroll, 800);
      expect(from).toBeLessThanOrEqual(scroll);
      expect(until).toBeGreaterThanOrEqual(scroll + 800);
    }
    expect(windowAt(10, 800)).toEqual(windowAt(190, 800));
  });

  it("takes one lane more on either side, and none that is not there", () => {
    expect(lanesIn({ from: -400, until: 1600 }, 100, 5)).toEqual({ first: 0, end: 5 });
    expect(lanesIn({ from: 1000, until: 1500 }, 100, 40)).toEqual({ first: 9, end: 16 });
    expect(lanesIn({ from: 1000, until: 1500 }, 100, 0)).toEqual({ first: 0, end: 0 });
  });
});
