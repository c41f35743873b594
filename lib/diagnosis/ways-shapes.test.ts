import { describe, expect, it } from "vitest";
import type { Cause } from "./causes";
import { pointOn } from "./curve";
import type { Predicted } from "./evidence";
import { type AnodeState, type Circumstance, KNOWN, modelOf, seriesFamily } from "./families";
import { EXPECTED } from "./fixtures";
import { type Way, waysOf } from "./ways";

const HOURS = [1, 2, 4, 5] as const;
const at = (hours: number): Circumstance => ({ hours, warmth: 1, levelShare: 1 });
const measured = { ratio: 0.9, errorShare: 0.1 };
const model = modelOf({ ...EXPECTED, conductivity: measured }, HOURS.map(at), false);
const ways = waysOf(model);
const of = (cause: Cause): readonly Way[] => ways.filter((way) => way.cause === cause);
const wayOf = (cause: Cause, place: number): Way => {
  const way = of(cause).at(place);
  if (!way) throw new Error(`no way ${place} of ${cause}`);
  return way;
};

/** What the meter shows where the fault is just so large at each reading, by part of the resistance. */
function expectGrowth(
  way: Way,
  growth: { readonly bath?: readonly number[]; readonly series?: readonly number[] },
  state: AnodeState,
): void {
  const among = (sizes: readonly number[] | undefined) => (where: Circumstance) =>
    sizes?.[HOURS.findIndex((hours) => hours === where.hours)] ?? 0;
  const plain = seriesFamily(model, state, KNOWN, {
    bath: among(growth.bath),
    series: among(growth.series),
  });
  for (const [x, s] of [
    [0, 0],
    [0.1, 0.4],
  ] as const) {
    const told = way.family.predict(x, s);
    plain.predict(x, s).forEach((exact, index) => {
      expect(told[index]?.lnAmps).toBeCloseTo(exact.lnAmps, 4);
      expect(told[index]?.lnVolts).toBeCloseTo(exact.lnVolts, 4);
    });
  }
}
const passive: AnodeState = () => 0;
const steady: AnodeState = () => 0.1;

describe("how each fault grows", () => {
  it("a film of a spent bath: there from the start, or thicker by a tenth an hour", () => {
    expectGrowth(wayOf("BATH_SPENT", 0), { series: [1, 1, 1, 1] }, passive);
    expectGrowth(wayOf("BATH_SPENT", 1), { series: [0.8, 0.9, 1.1, 1.2] }, passive);
    expect(wayOf("BATH_SPENT", 0).share).toBeCloseTo(0.3 * 0.7, 12);
  });

  it("a worn anode and a weak bath: from the start, and steady", () => {
    for (const cause of ["ANODE_WORN", "BATH_WEAK"] as const) {
      expectGrowth(wayOf(cause, 0), { bath: [1, 1, 1, 1] }, passive);
    }
  });

  it("a leak nobody measured: from loading or later, a fifth or three fifths of the bath", () => {
    expectGrowth(wayOf("LEVEL_FALLEN", 0), { bath: [1, 1, 1, 1] }, steady);
    // 1/0.88 − 1 of 1/0.4 − 1, and so on
    expectGrowth(wayOf("LEVEL_FALLEN", 2), { bath: [0.090909, 0.210526, 0.615385, 1] }, steady);
    expectGrowth(wayOf("LEVEL_FALLEN", 3), { bath: [0, 0, 0.615385, 1] }, steady);
    expect(wayOf("LEVEL_FALLEN", 0).share).toBeCloseTo(0.6 * 0.4, 12);
    expect(wayOf("LEVEL_FALLEN", 1).share).toBeCloseTo((0.6 * 0.6) / 4, 12);
  });

  it("a film that closes over the anode: all of it, or all but a share", () => {
    const closed = HOURS.map((hours) => 1 - Math.exp(-hours / 1.5));
    const state: AnodeState = (hours) => 0.1 * Math.exp(-hours / 1.5);
    expectGrowth(wayOf("ANODE_PASSIVE", 3), { series: closed }, state);
    const left = closed.map((share) => (1 / (1 - 0.8 * share) - 1) / 4);
    expectGrowth(wayOf("ANODE_PASSIVE", 4), { series: left }, state);
    expect(wayOf("ANODE_PASSIVE", 3).share).toBeCloseTo(0.65 / 12, 12);
    expect(wayOf("ANODE_PASSIVE", 4).share).toBeCloseTo(0.25 / 12, 12);
    expect(wayOf("ANODE_PASSIVE", 5).share).toBeCloseTo(0.1 / 12, 12);
  });

  it("a film that begins to close half way", () => {
    // Half of five hours: nothing at 1 and 2 h, then within half an hour or so.
    const since = HOURS.map((hours) => Math.max(0, hours - 2.5));
    expectGrowth(
      wayOf("ANODE_PASSIVE", 18),
      { series: since.map((hours) => 1 - Math.exp(-hours / 0.5)) },
      (hours) => 0.1 * Math.exp(-Math.max(0, hours - 2.5) / 0.5),
    );
  });

  it("copper that thins: e times in so much of the span, all of it at the last reading", () => {
    expectGrowth(
      wayOf("LEAD_CORRODED", 0),
      { series: HOURS.map((hours) => Math.expm1(hours / 0.5) / Math.expm1(10)) },
      steady,
    );
    // Begun at 65 of 100 of the span: 3.25 h; e times in 2.25 h.
    expectGrowth(
      wayOf("LEAD_CORRODED", 8),
      { series: [0, 0, Math.expm1(0.75 / 2.25) / Math.expm1(1.75 / 2.25), 1] },
      steady,
    );
    expect(wayOf("LEAD_CORRODED", 0).share).toBeCloseTo(0.6 / 9, 12);
  });

  it("a poor contact: all at once, before the first reading or between two", () => {
    expectGrowth(wayOf("POOR_CONTACT", 0), { series: [1, 1, 1, 1] }, steady);
    expectGrowth(wayOf("POOR_CONTACT", 2), { series: [0, 1, 1, 1] }, steady);
    expectGrowth(wayOf("POOR_CONTACT", 6), { series: [0, 0, 0, 1] }, steady);
    expect(wayOf("POOR_CONTACT", 0).share).toBeCloseTo((0.6 * 0.4) / 2, 12);
    const flicker = (place: number): number =>
      wayOf("POOR_CONTACT", place).family.predict(0, 0)[0]?.flickerAmps ?? 0;
    // Three times as lively: nine times the variance.
    expect(flicker(1) / flicker(0)).toBeCloseTo(9, 9);
  });
});

describe("what goes wrong at one moment", () => {
  const sound = seriesFamily(model, () => 0.2, KNOWN, {}).predict(0.05, 0);

  it("leaves the readings before it as they were", () => {
    for (const cause of ["TOUCHING", "LEAD_OPEN", "SUPPLY_OFF"] as const) {
      const told = wayOf(cause, 2).family.predict(0.05, 1);
      expect(told.slice(0, 2)).toEqual(sound.slice(0, 2));
      expect(told[2]).toEqual(told[3]);
      expect(told[2]?.lnAmps).not.toBeCloseTo(sound[2]?.lnAmps ?? 0, 1);
    }
  });

  it("is nothing to do with the bath from then on", () => {
    const still: Partial<Predicted> = {
      ampsByX: 0,
      voltsByX: 0,
      flickerAmps: 0,
      flickerVolts: 0,
    };
    for (const cause of ["TOUCHING", "LEAD_OPEN", "SUPPLY_OFF"] as const) {
      expect(wayOf(cause, 0).family.predict(0.05, 1)[0]).toMatchObject(still);
    }
  });

  it("shows a touch as deep as its severity says, and a lead or a supply that is gone at its least", () => {
    const { lnAmps, lnVolts, slopeAmps, slopeVolts } = pointOn(model.touch, 1.3);
    expect(wayOf("TOUCHING", 0).family.predict(0, 1.3)[0]).toMatchObject({
      lnAmps,
      lnVolts,
      ampsByS: slopeAmps,
      voltsByS: slopeVolts,
    });
    for (const cause of ["LEAD_OPEN", "SUPPLY_OFF"] as const) {
      const [told] = wayOf(cause, 0).family.predict(0, 0);
      expect(told).toMatchObject({ ampsByS: 0, voltsByS: 0 });
    }
  });
});

describe("how severe a fault is before it is seen", () => {
  it.each<[Cause, number, number]>([
    // middle, and how many times more or less for two in three
    ["BATH_WEAK", 1, 2.2],
    ["BATH_STRONG", 0.82, 2.2],
    ["BATH_SPENT", 0.74, 2.2],
    ["ANODE_WORN", 0.67, 2.2],
    ["LEVEL_FALLEN", 0.61, 2.2],
    ["ANODE_PASSIVE", 1.35, 2.5],
    ["LEAD_CORRODED", 2.0, 3.3],
    ["POOR_CONTACT", 1.2, 2.7],
    ["TOUCHING", 4.5, 4.5],
  ])("%s: about %d times what it is measured by", (cause, middle, times) => {
    for (const { family } of of(cause)) {
      expect(Math.exp(family.s.mean)).toBeCloseTo(middle, 1);
      expect(Math.exp(family.s.deviation)).toBeCloseTo(times, 1);
      expect(family.x).toEqual({ mean: 0, deviation: EXPECTED.bathErrorLog });
    }
  });

  it("is nothing to guess where there is no more or less of it", () => {
    for (const cause of ["AS_IT_SHOULD", "LEAD_OPEN", "SUPPLY_OFF"] as const) {
      for (const { family } of of(cause)) expect(family.s).toEqual(KNOWN);
    }
  });
});

describe("what a measured conductivity says of each cause", () => {
  it("is half of the plan's in a weak bath, twice in a strong one, and the plan's in all others", () => {
    for (const { cause, family } of ways) {
      const { sideways } = family;
      expect(sideways?.seen, cause).toBeCloseTo(Math.log(0.9), 12);
      const expected = { BATH_WEAK: Math.log(0.5), BATH_STRONG: Math.log(2) };
      const value = cause === "BATH_WEAK" || cause === "BATH_STRONG" ? expected[cause] : 0;
      expect(sideways?.predict(0).value, cause).toBeCloseTo(value, 12);
    }
  });

  it("moves with the severity as its slope tells", () => {
    const step = 1e-6;
    for (const { cause, family } of ways) {
      for (const s of [-1, 0.3, 1]) {
        const here = family.sideways?.predict(s);
        const there = family.sideways?.predict(s + step);
        const slope = ((there?.value ?? 0) - (here?.value ?? 0)) / step;
        expect(here?.byS, cause).toBeCloseTo(slope, 5);
      }
    }
  });
});
