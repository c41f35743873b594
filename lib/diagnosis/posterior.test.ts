import { describe, expect, it } from "vitest";
import { type Cause, CAUSES } from "./causes";
import type { Expectation, RunReading } from "./expectation";
import { EXPECTED, MIDDLE, readingAt } from "./fixtures";
import { posteriorOf, sinceMended } from "./posterior";

const HOURS = [0.5, 1.5, 2.5, 3.5, 4.5, 5.5];
const run = (shares: readonly number[], change: Partial<RunReading> = {}): RunReading[] =>
  shares.map((share, index) => readingAt(HOURS[index] ?? 0, share, change));
const top = (
  readings: readonly RunReading[],
  change: Partial<Expectation> = {},
): [Cause, number] => {
  const { probability } = posteriorOf(readings, { ...EXPECTED, ...change });
  const first = CAUSES.reduce((best, cause) =>
    probability[cause] > probability[best] ? cause : best,
  );
  return [first, probability[first]];
};
const steady = (share: number): number[] => HOURS.map(() => share);
const measured = { ratio: 1, errorShare: 0.1 };

describe("posteriorOf", () => {
  it("adds up to 1, before and after", () => {
    const { prior, probability, weighed } = posteriorOf(run(steady(1)), EXPECTED);
    for (const shares of [prior, probability]) {
      expect(CAUSES.reduce((sum, cause) => sum + shares[cause], 0)).toBeCloseTo(1, 9);
    }
    expect(weighed).toHaveLength(6);
  });

  it.each<[Cause, number[], Partial<Expectation>]>([
    ["AS_IT_SHOULD", steady(1), {}],
    ["AS_IT_SHOULD", [1.05, 1.02, 0.98, 1, 0.96, 0.97], {}],
    ["BATH_WEAK", steady(0.5), { conductivity: { ratio: 0.45, errorShare: 0.1 } }],
    ["BATH_STRONG", steady(1.7), { conductivity: { ratio: 2, errorShare: 0.1 } }],
    ["BATH_SPENT", steady(0.5), { bathChargeAhPerL: 30, conductivity: measured }],
    ["ANODE_WORN", steady(0.5), { anodeWearShare: 1.2, conductivity: measured }],
    ["POOR_CONTACT", [1, 0.4, 0.7, 0.3, 0.6, 0.35], {}],
    ["ANODE_PASSIVE", [1, 0.6, 0.45, 0.38, 0.36, 0.35], { brushedHours: 200 }],
    ["LEAD_CORRODED", [1, 0.98, 0.94, 0.83, 0.6, 0.3], { clampHours: 200 }],
    ["LEAD_OPEN", [1, 1, 1, 1, 0, 0], {}],
  ])("finds %s in a run of %j", (cause, shares, change) => {
    const [first, probability] = top(run(shares), change);
    expect(first).toBe(cause);
    expect(probability).toBeGreaterThan(0.7);
  });

  it("finds a touch, a supply that is off, and leads the wrong way round", () => {
    const before = run([1, 1, 1]);
    expect(top([...before, readingAt(4, 1, { currentA: 40, voltsV: 7.8 })])[0]).toBe("TOUCHING");
    expect(top([...before, readingAt(4, 1, { currentA: 0, voltsV: 0 })])[0]).toBe("SUPPLY_OFF");
    expect(top([readingAt(1, 1, { currentA: -MIDDLE.currentA })])[0]).toBe("REVERSED");
    expect(top([readingAt(1, 1, { voltsV: -12 })])[0]).toBe("REVERSED");
  });

  it("lays a low current to a level that was read low, and not otherwise", () => {
    const low = run(steady(0.68), { levelMm: 190 });
    expect(top(low)[0]).toBe("LEVEL_FALLEN");
    const { probability } = posteriorOf(run(steady(0.68), { levelMm: 300 }), EXPECTED);
    expect(probability.LEVEL_FALLEN).toBeLessThan(0.01);
  });

  it("counts the warmth of the bath", () => {
    // 15 K colder: 30 % less conductivity, and that much less current is as it should be.
    const [cold] = top(run(steady(0.78), { temperatureC: 3 }), { bathErrorLog: 0.1 });
    expect(cold).toBe("AS_IT_SHOULD");
    const of = (temperatureC: number): number =>
      posteriorOf(run(steady(0.72), { temperatureC }), EXPECTED).probability.AS_IT_SHOULD;
    expect(of(3)).toBeGreaterThan(2 * of(25));
  });

  it("is less sure in a new tank, and with a worse meter", () => {
    const readings = run(steady(0.65));
    const sound = (change: Partial<Expectation>): number =>
      posteriorOf(readings, { ...EXPECTED, ...change }).probability.AS_IT_SHOULD;
    expect(sound({ bathErrorLog: 0.27 })).toBeGreaterThan(2 * sound({}));
    const jumpy = run([1, 0.8, 1.1, 0.85, 1.05, 0.8]);
    const contact = (meterNoise: number): number =>
      posteriorOf(jumpy, { ...EXPECTED, meterNoise }).probability.POOR_CONTACT;
    expect(contact(0.02)).toBeGreaterThan(contact(0.15));
  });

  it("gives readings that nothing explains to something else", () => {
    const [first] = top(run([0.3, 6, 0.4, 5, 2, 0.5], { voltsV: 4 }));
    expect(first).toBe("SOMETHING_ELSE");
  });

  it("tells what each cause would show now", () => {
    const { told } = posteriorOf(run([1, 1, 1, 0]), EXPECTED);
    expect(told.get("LEAD_OPEN")).toEqual({ amps: 0, volts: expect.closeTo(13.8, 9) });
    expect(told.get("SUPPLY_OFF")).toEqual({ amps: 0, volts: 0 });
    expect(told.has("SOMETHING_ELSE")).toBe(false);
    const sound = posteriorOf(run(steady(1)), EXPECTED).told;
    expect(sound.get("AS_IT_SHOULD")?.amps).toBeCloseTo(MIDDLE.currentA, 0);
    expect(sound.get("REVERSED")?.amps).toBeCloseTo(-MIDDLE.currentA, 0);
  });

  it("weighs the first four and the last twelve of many readings", () => {
    const all = Array.from({ length: 40 }, (_, index) => readingAt(index / 2));
    expect(posteriorOf(all, EXPECTED).weighed).toEqual([...all.slice(0, 4), ...all.slice(28)]);
    expect(posteriorOf(all.slice(0, 16), EXPECTED).weighed).toEqual(all.slice(0, 16));
    expect(posteriorOf(all.slice(0, 17), EXPECTED).weighed).toHaveLength(16);
  });

  it("never is quite sure", () => {
    for (const readings of [run(steady(1)), run([1, 1, 1, 0, 0, 0])]) {
      const [, probability] = top(readings);
      expect(probability).toBeGreaterThan(0.95);
      expect(probability).toBeLessThan(0.995);
    }
  });
});

describe("sinceMended", () => {
  const sound = readingAt(1);
  const none = readingAt(2, 0);
  const low = readingAt(3, 1, { voltsV: 1.4 });
  const wrong = readingAt(4, 1, { currentA: -2 });

  it("leaves out what was put right, up to its last sign", () => {
    expect(sinceMended([sound, none, sound, low, sound, sound])).toEqual([sound, sound]);
    expect(sinceMended([wrong, sound])).toEqual([sound]);
    expect(sinceMended([sound, sound])).toEqual([sound, sound]);
    expect(sinceMended([])).toEqual([]);
  });

  it("keeps all while it lasts", () => {
    for (const last of [none, low, wrong])
      expect(sinceMended([sound, last])).toEqual([sound, last]);
    const edge = readingAt(2, 1, { currentA: 0.05 });
    const above = readingAt(3, 1, { currentA: 0.06, voltsV: 1.5 });
    expect(sinceMended([edge, above])).toEqual([above]);
  });
});
