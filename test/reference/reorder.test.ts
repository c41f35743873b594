/** Reordering against published figures, arithmetic written out here, and simulated shops. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type DailyUse,
  dailyUse,
  type DatedEntry,
  daysThatSpeak,
  demandOf,
  economicOrder,
  type EconomicOrderInput,
  leadDemandSpread,
  learnLeadTime,
  lotsWasted,
  orderAdvice,
  reorderPoint,
  shareCovered,
  wholePacks,
} from "@/lib/stock";
import { normalQuantile } from "@/lib/stock/normal";

/** Seeded chance, shared with nothing under test (a linear congruential generator, Numerical Recipes' constants). */
function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

/** Box and Muller: a normal draw without any quantile function. */
function normalDraws(seed: number): (mean: number, deviation: number) => number {
  const next = chance(seed);
  return (mean, deviation) =>
    mean + deviation * Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}

/** Share of the normal distribution below `z`, by Simpson's rule over its density. */
function shareBelow(z: number): number {
  const steps = 2000;
  const width = z / steps;
  const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(0) + density(z);
  for (let i = 1; i < steps; i += 1) sum += (i % 2 === 0 ? 2 : 4) * density(i * width);
  return 0.5 + (sum * width) / 3;
}

describe("the normal quantile", () => {
  it.each([
    // NIST/SEMATECH e-Handbook, table of the standard normal, 1.3.6.7.1, read backwards (four places).
    [0.9, 1.2816],
    [0.95, 1.6449],
    [0.975, 1.96],
    [0.99, 2.3263],
    [0.5, 0],
  ])("of %d is %d", (p, z) => {
    expect(normalQuantile(p)).toBeCloseTo(z, 4);
    expect(normalQuantile(1 - p)).toBeCloseTo(-z, 4);
  });

  it("has as much below it as it says, by integrating the density", () => {
    for (const p of [0.51, 0.6, 0.75, 0.9, 0.924, 0.926, 0.98, 0.999, 0.9999, 0.000_01]) {
      expect(shareBelow(normalQuantile(p))).toBeCloseTo(p, 10);
    }
  });

  it("refuses what is no probability", () => {
    for (const p of [0, 1, -0.1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});

describe("the economic order", () => {
  const sharp: EconomicOrderInput = {
    unit: "EACH",
    annualDemand: 1000,
    orderCostMinor: 1000,
    holdingMinor: 50,
    pack: null,
    shelfLifeDays: null,
  };

  it("is that of Sharp, Inc.", () => {
    // Heizer, Render and Munson, Operations Management, ch. 12, examples 3 to 5 (as solved at holooly.com):
    // D 1000, S $10, H $0.50: Q* 200, 5 orders a year, $100 a year.
    const order = economicOrder(sharp);
    expect(order.worked.value).toBeCloseTo(200, 9);
    expect(order).toMatchObject({ quantity: 200, ordersPerYear: 5, yearlyMinor: 10_000 });
    // The same with D 1200: Q* 219.
    expect(economicOrder({ ...sharp, annualDemand: 1200 }).quantity).toBe(219);
  });

  it("costs no more than any other number of packs, found by trying all", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 1, max: 500 }),
        fc.integer({ min: 1, max: 60 }),
        (annualDemand, orderCostMinor, holdingMinor, pack) => {
          const found = economicOrder({
            ...sharp,
            annualDemand,
            orderCostMinor,
            holdingMinor,
            pack,
          });
          const cost = (quantity: number) =>
            (annualDemand / quantity) * orderCostMinor + (quantity / 2) * holdingMinor;
          expect(found.quantity % pack).toBe(0);
          expect(found.yearlyMinor).toBeCloseTo(cost(found.quantity), 6);
          const many = Math.ceil(found.worked.value / pack) + 50;
          for (let packs = 1; packs <= many; packs += 1) {
            expect(cost(packs * pack)).toBeGreaterThanOrEqual(found.yearlyMinor - 1e-6);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it("is no more than is used while it is good, but a pack at least", () => {
    // 1000 a year are 2.74 a day: in 30 days 82 are used.
    const short = economicOrder({ ...sharp, shelfLifeDays: 30 });
    expect(short).toMatchObject({ quantity: 82, limitedByShelfLife: true });
    expect(economicOrder({ ...sharp, shelfLifeDays: 30, pack: 25 }).quantity).toBe(75);
    expect(economicOrder({ ...sharp, shelfLifeDays: 30, pack: 500 }).quantity).toBe(500);
    expect(economicOrder({ ...sharp, shelfLifeDays: 3650 }).limitedByShelfLife).toBe(false);
  });

  it("refuses what has no order", () => {
    for (const bad of [
      { annualDemand: 0 },
      { orderCostMinor: 0 },
      { holdingMinor: 0 },
      { pack: 0 },
    ]) {
      expect(() => economicOrder({ ...sharp, ...bad })).toThrow(RangeError);
    }
  });

  it("is rounded up to whole packs", () => {
    expect(wholePacks(1200, 500)).toBe(1500);
    expect(wholePacks(1500, 500)).toBe(1500);
    expect(wholePacks(0.3, 0.1)).toBe(0.3);
    expect(wholePacks(0, 500)).toBe(0);
    expect(wholePacks(12.34, null)).toBe(12.34);
  });
});

describe("the reorder point", () => {
  const point = (
    usagePerDay: number,
    usageDeviation: number,
    leadDays: number,
    leadDeviation: number,
    serviceLevel: number,
  ) =>
    reorderPoint({
      unit: "EACH",
      usagePerDay,
      usageDeviation,
      leadDays,
      leadDeviation,
      serviceLevel,
    }).value;

  it("is right in the four textbook cases", () => {
    // Heizer, Render and Munson, ch. 12 (from memory), each worked out again beside it with the table's z.
    // Constant use and lead time: 8 a day for 3 days.
    expect(point(8, 0, 3, 0, 0.95)).toBe(24);
    // Use varies: 15 a day, spread 5, 2 days, 90 %: 30 + 1.28·5·√2 = 39.
    expect(Math.round(point(15, 5, 2, 0, 0.9))).toBe(Math.round(30 + 1.28 * 5 * Math.SQRT2));
    // Lead time varies: 10 a day, 6 days, spread 1, 98 %: 60 + 2.055·10·1 = 80.55.
    expect(point(10, 0, 6, 1, 0.98)).toBeCloseTo(60 + 2.055 * 10, 1);
    // Both: 150 a day, spread 16, 5 days, spread 1, 95 %: 750 + 1.65·154 = 1004; √(5·256 + 22500) = 154.2.
    expect(point(150, 16, 5, 1, 0.95)).toBeCloseTo(750 + 1.6449 * Math.sqrt(1280 + 22_500), 1);
    expect(Math.abs(point(150, 16, 5, 1, 0.95) - 1004)).toBeLessThan(1);
  });

  it("needs no safety stock for half of all orders", () => {
    expect(point(15, 5, 2, 1, 0.5)).toBeCloseTo(30, 9);
  });

  it("refuses what cannot be", () => {
    const refused: Parameters<typeof point>[] = [
      [-1, 5, 2, 1, 0.9],
      [1, -5, 2, 1, 0.9],
      [1, 5, -2, 1, 0.9],
      [1, 5, 2, -1, 0.9],
      [1, 5, 2, 1, 0.4],
      [1, 5, 2, 1, 1],
    ];
    for (const bad of refused) expect(() => point(...bad)).toThrow(RangeError);
  });

  it.each([0.8, 0.9, 0.95, 0.99])("lasts through the asked share of lead times, %d", (level) => {
    const draw = normalDraws(20_300_107);
    const reorderAt = point(20, 6, 9, 2, level);
    const orders = 20_000;
    let lasted = 0;
    for (let order = 0; order < orders; order += 1) {
      // Day by day, over as many days as this order takes.
      const days = Math.max(1, Math.round(draw(9, 2)));
      let left = reorderAt;
      for (let day = 0; day < days; day += 1) left -= draw(20, 6);
      if (left >= 0) lasted += 1;
    }
    // Whole days and the draw itself (0.3 % at 20 000) leave a percent or so.
    expect(Math.abs(lasted / orders - level)).toBeLessThan(0.015);
  });
});

describe("demand out of the ledger", () => {
  const ledger: DatedEntry[] = [
    { day: 0, kind: "RECEIVED", quantity: 10 },
    { day: 1, kind: "USED", quantity: -4 },
    { day: 2, kind: "COUNTED", quantity: -1 },
    { day: 3, kind: "SPOILED", quantity: -2 },
    { day: 4, kind: "USED", quantity: -3 },
    { day: 7, kind: "RECEIVED", quantity: 5 },
    { day: 8, kind: "USED", quantity: -2 },
    { day: 9, kind: "RETURNED", quantity: 0.5 },
  ];

  it("counts days without use, and leaves out those without stock", () => {
    const use = dailyUse(ledger, { firstDay: 0, lastDay: 9, mostDays: 365 });
    expect(use).toEqual({ firstDay: 0, days: [0, 4, 0, 0, 3, null, null, 0, 1.5, 0] });
    // By hand: 8.5 in 8 days; squares 2·0 … (4² + 3² + 1.5²) − 8·1.0625² = 18.21875, over 7.
    expect(demandOf(use)).toMatchObject({ days: 8, usedDays: 3, mostADay: 4, perDay: 1.0625 });
    expect(demandOf(use).deviation).toBeCloseTo(Math.sqrt(18.218_75 / 7), 12);
  });

  it("looks back no further than asked, with what was on hand then", () => {
    expect(dailyUse(ledger, { firstDay: 0, lastDay: 9, mostDays: 4 })).toEqual({
      firstDay: 6,
      days: [null, 0, 1.5, 0],
    });
    expect(dailyUse(ledger, { firstDay: 5, lastDay: 4, mostDays: 4 }).days).toEqual([]);
    expect(demandOf({ firstDay: 0, days: [] })).toMatchObject({ perDay: 0, pattern: "NONE" });
  });

  it("tells the patterns of use apart", () => {
    const pattern = (days: number[]) => demandOf({ firstDay: 0, days }).pattern;
    expect(pattern([5, 6, 5, 4, 5, 6])).toBe("SMOOTH");
    expect(pattern([5, 0, 0, 5, 0, 6])).toBe("INTERMITTENT");
    expect(pattern([1, 20, 1, 1, 30, 1])).toBe("ERRATIC");
    expect(pattern([1, 0, 0, 20, 0, 1])).toBe("LUMPY");
  });

  const series = (days: readonly number[]): DailyUse => ({ firstDay: 0, days });

  it("finds the spread of a lead time by the square root where little is known", () => {
    const found = leadDemandSpread(series([1, 2, 3, 4, 5, 6, 7]), 3);
    expect(found.method).toBe("SQUARE_ROOT");
    expect(found.deviationPerDay).toBeCloseTo(Math.sqrt(28 / 6), 12); // of 1 … 7: 28/6
  });

  it("agrees with the square root for days that are independent", () => {
    const draw = normalDraws(7);
    const found = leadDemandSpread(series(Array.from({ length: 20_000 }, () => draw(50, 8))), 6);
    expect(found).toMatchObject({ method: "BLOCKS", blockDays: 6 });
    expect(found.deviationPerDay).toBeGreaterThan(8 * 0.96);
    expect(found.deviationPerDay).toBeLessThan(8 * 1.04);
  });

  it("sees clusters that the square root misses, and rests after a big use", () => {
    // Every block of four has the same sum: a lead time of four days has no spread at all.
    const rests = series(Array.from({ length: 400 }, (_, day) => (day % 4 === 0 ? 8 : 0)));
    expect(leadDemandSpread(rests, 4).deviationPerDay).toBeCloseTo(0, 9);
    expect(demandOf(rests).deviation).toBeGreaterThan(3);
    // Weeks of use and weeks of none: seven days in a row are 70 or 0, their spread 35 and not 5·√7.
    const weeks = series(
      Array.from({ length: 700 }, (_, day) => (Math.floor(day / 7) % 2 === 0 ? 10 : 0)),
    );
    const spread = leadDemandSpread(weeks, 7).deviationPerDay * Math.sqrt(7);
    expect(spread).toBeGreaterThan(1.4 * 5 * Math.sqrt(7));
  });

  it("makes no span over a day that is left out", () => {
    const days = [
      ...Array.from({ length: 30 }, () => 1),
      null,
      ...Array.from({ length: 30 }, () => 1),
    ];
    const found = leadDemandSpread({ firstDay: 0, days }, 5);
    expect(found).toMatchObject({ method: "BLOCKS", blocks: 52 }); // twice 26
    expect(shareCovered({ firstDay: 0, days: [1, 2, null, 3] }, 2, 3)).toBe(1);
    expect(shareCovered({ firstDay: 0, days: [1, 2, 3, 4] }, 2, 5)).toBeCloseTo(2 / 3, 12);
    expect(shareCovered({ firstDay: 0, days: [] }, 2, 5)).toBeNull();
  });
});

describe("the lead time", () => {
  it("is what was said until deliveries tell", () => {
    const said = learnLeadTime(5, []);
    expect(said.days).toBe(5);
    expect(said.deviation).toBeCloseTo(1.5, 12); // 30 % of it
    expect(learnLeadTime(null, []).days).toBe(7);
    expect(learnLeadTime(0, []).days).toBe(0);
    // Two for what was said, three deliveries: (2·5 + 7 + 9 + 8) / 5.
    expect(learnLeadTime(5, [7, 9, 8]).days).toBeCloseTo(6.8, 12);
  });

  it("is the posterior that numerical integration over mean and precision finds", () => {
    const said = 6;
    const seen = [4, 8, 9, 7];
    const alpha = 2;
    const beta = ((alpha - 1) * 2 * (0.3 * said) ** 2) / 3;
    let weight = 0;
    let mean = 0;
    let square = 0;
    // μ and τ on a grid; the predictive mean is μ, its variance that of μ and 1/τ together.
    for (let mu = -4; mu <= 18; mu += 0.02) {
      for (let logTau = -8; logTau <= 5; logTau += 0.05) {
        const tau = Math.exp(logTau);
        const squares = seen.reduce((sum, each) => sum + (each - mu) ** 2, 0);
        const log =
          (alpha - 0.5 + seen.length / 2) * Math.log(tau) -
          beta * tau -
          (tau * (2 * (mu - said) ** 2 + squares)) / 2 +
          logTau;
        const here = Math.exp(log);
        weight += here;
        mean += here * mu;
        square += here * (mu * mu + 1 / tau);
      }
    }
    const found = learnLeadTime(said, seen);
    expect(found.days).toBeCloseTo(mean / weight, 3);
    expect(found.deviation).toBeCloseTo(Math.sqrt(square / weight - (mean / weight) ** 2), 2);
  });

  it("comes to what deliveries take as there are many", () => {
    const draw = normalDraws(3);
    const days = Array.from({ length: 4000 }, () => Math.max(0, draw(11, 2)));
    const found = learnLeadTime(3, days);
    expect(found.days).toBeCloseTo(11, 0);
    expect(Math.abs(found.deviation - 2)).toBeLessThan(0.3);
  });

  it("is never below 0, and refuses days that are", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 400, noNaN: true }),
        fc.array(fc.double({ min: 0, max: 400, noNaN: true }), { maxLength: 12 }),
        (said, days) => {
          const found = learnLeadTime(said, days);
          expect(found.days).toBeGreaterThanOrEqual(0);
          expect(found.deviation).toBeGreaterThanOrEqual(0);
          expect(found.worked.low).toBeGreaterThanOrEqual(0);
        },
      ),
    );
    expect(() => learnLeadTime(-1, [])).toThrow(RangeError);
    expect(() => learnLeadTime(5, [-1])).toThrow(RangeError);
  });

  it("rests on the item's own deliveries from four on, else on all of the supplier, each van once", () => {
    const came = (orderId: string, itemId: string, days: number) => ({ orderId, itemId, days });
    const few = [came("1", "a", 4), came("1", "b", 4), came("2", "b", 6), came("2", "a", 9)];
    expect(daysThatSpeak(few, "a")).toEqual([4, 6, 9]);
    const many = [...few, came("3", "a", 5), came("4", "a", 7)];
    expect(daysThatSpeak(many, "a")).toEqual([4, 9, 5, 7]);
    expect(daysThatSpeak(many, null)).toEqual([4, 6, 9, 5, 7]);
  });
});

describe("what to order", () => {
  const today = new Date("2030-01-07T00:00:00Z");
  const inDays = (days: number) => new Date(today.getTime() + days * 86_400_000);
  const lot = (id: string, onHand: number, days: number | null) => ({
    id,
    onHand,
    expiresOn: days === null ? null : inDays(days),
  });
  const input = {
    unit: "GRAM",
    lots: [lot("a", 900, null)],
    onOrder: 0,
    perDay: 50,
    reorderPoint: 1000,
    usualQuantity: 2000,
    pack: 500,
    leadDays: 5,
    today,
  } as const;

  it("orders at the reorder point, in whole packs, and not twice", () => {
    expect(orderAdvice(input)).toMatchObject({ reason: "LOW", quantity: 2000, daysToOrder: 0 });
    expect(orderAdvice({ ...input, usualQuantity: 1700 }).quantity).toBe(2000);
    expect(orderAdvice({ ...input, usualQuantity: 0 }).quantity).toBe(500);
    expect(orderAdvice({ ...input, onOrder: 100.001 })).toMatchObject({
      reason: null,
      quantity: 0,
    });
    expect(orderAdvice({ ...input, onOrder: 100 }).reason).toBe("LOW");
    expect(orderAdvice({ ...input, lots: [] }).reason).toBe("OUT");
    expect(orderAdvice({ ...input, lots: [], onOrder: 600 })).toMatchObject({ reason: "LOW" });
    expect(orderAdvice({ ...input, lots: [lot("a", 1500, null)] }).daysToOrder).toBe(10);
  });

  it("orders at least up to the reorder point", () => {
    expect(orderAdvice({ ...input, lots: [], usualQuantity: 500, pack: null }).quantity).toBe(1000);
    const pieces = { ...input, unit: "EACH", lots: [], usualQuantity: 0, pack: null } as const;
    expect(orderAdvice({ ...pieces, reorderPoint: 10.4 }).quantity).toBe(11);
  });

  it("counts as gone what is past its day, and what will be before it is used", () => {
    const past = orderAdvice({ ...input, lots: [lot("a", 5000, -1), lot("b", 400, null)] });
    expect(past.position.value).toBe(400);
    expect(past.wasted).toEqual([{ id: "a", quantity: 5000, daysLeft: -1 }]);
    // Two more days of use, today and tomorrow: 100 of 1050 are used, 950 go off before an order comes.
    const soon = orderAdvice({ ...input, lots: [lot("a", 1050, 1)] });
    expect(soon.position.value).toBe(100);
    expect(soon.reason).toBe("EXPIRING");
    // The same a year ahead is told of, but there until then.
    const far = orderAdvice({ ...input, lots: [lot("a", 50_000, 365)] });
    expect(far).toMatchObject({ reason: null, wasted: [{ id: "a", quantity: 50_000 - 366 * 50 }] });
  });

  it("wastes what a day-by-day use of the nearest date first wastes", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            onHand: fc.integer({ min: 1, max: 60 }),
            days: fc.integer({ min: -3, max: 20 }),
          }),
          { maxLength: 6 },
        ),
        fc.integer({ min: 0, max: 9 }),
        (given, perDay) => {
          const lots = given.map(({ onHand, days }, index) => lot(String(index), onHand, days));
          const left = given.map(({ onHand, days }) => ({ onHand, days }));
          for (let day = 0; day <= 25; day += 1) {
            let wanted = perDay;
            for (const each of [...left].sort((a, b) => a.days - b.days)) {
              if (each.days < day) continue;
              const taken = Math.min(wanted, each.onHand);
              each.onHand -= taken;
              wanted -= taken;
            }
          }
          const expected = left.reduce((sum, { onHand }) => sum + onHand, 0);
          const found = lotsWasted(lots, perDay, today).reduce(
            (sum, { quantity }) => sum + quantity,
            0,
          );
          expect(found).toBeCloseTo(expected, 6);
        },
      ),
    );
  });
});
