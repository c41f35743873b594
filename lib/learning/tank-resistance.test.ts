import { describe, expect, it } from "vitest";
import { learnResistance, type LoadAtMeter } from "./tank-resistance";

const PRIOR = { contactOhm: 0.02, bathFactorP90: 1.35 };
/** A load that the meter shows just as these figures have it. */
const load = (currentA: number, bathOhm: number, contactOhm = 0.02, factor = 1): LoadAtMeter => ({
  currentA,
  bathOhm,
  leftV: currentA * (contactOhm + bathOhm / factor),
});
const times = (count: number, one: LoadAtMeter) => Array.from({ length: count }, () => one);
/** Small loads at much bath resistance and large ones at little: they tell contacts and bath apart. */
const varied = (contactOhm: number, factor = 1) => [
  ...times(15, load(4, 2, contactOhm, factor)),
  ...times(15, load(18, 0.3, contactOhm, factor)),
];

describe("a tank's contacts and bath", () => {
  it("are as entered while no load was read", () => {
    const { contactOhm, bathFactor, tradeOff, loads } = learnResistance(PRIOR, []);
    expect(contactOhm(0.5)).toBeCloseTo(0.02, 6);
    expect(contactOhm(0.9)).toBeCloseTo(0.06, 3);
    expect(contactOhm(0.1)).toBeCloseTo(0.02 / 3, 3);
    expect(bathFactor(0.9)).toBeCloseTo(1.35, 2);
    expect(tradeOff).toBeCloseTo(0, 6);
    expect(loads).toBe(0);
  });

  it("are told apart by loads of several sizes", () => {
    const { contactOhm, bathFactor, loads } = learnResistance(PRIOR, varied(0.08, 0.8));
    expect(contactOhm(0.1)).toBeLessThan(0.08);
    expect(contactOhm(0.9)).toBeGreaterThan(0.08);
    expect(contactOhm(0.5)).toBeGreaterThan(0.06);
    expect(bathFactor(0.1)).toBeLessThan(0.8);
    expect(bathFactor(0.9)).toBeGreaterThan(0.8);
    expect(bathFactor(0.9) / bathFactor(0.1)).toBeLessThan(1.1);
    expect(loads).toBe(30);
  });

  it("trade off where all loads are alike, and it is said", () => {
    const alike = learnResistance(PRIOR, times(40, load(15, 0.3, 0.05)));
    expect(alike.tradeOff).toBeGreaterThan(0.5);
    expect(alike.tradeOff).toBeLessThanOrEqual(1);
    expect(alike.contactOhm(0.9) / alike.contactOhm(0.1)).toBeGreaterThan(2);
    expect(learnResistance(PRIOR, varied(0.05)).tradeOff).toBeLessThan(alike.tradeOff);
  });

  it("are not decided by one day with a loose clamp", () => {
    const usual = varied(0.02);
    const loose = { ...load(4, 2), leftV: 30 };
    const before = learnResistance(PRIOR, usual).contactOhm(0.5);
    expect(learnResistance(PRIOR, [...usual, loose]).contactOhm(0.5)).toBeLessThan(1.3 * before);
  });

  it("stay positive where the meter shows less than the model", () => {
    const { contactOhm, bathFactor } = learnResistance(
      PRIOR,
      times(20, { ...load(8, 1), leftV: -1 }),
    );
    expect(contactOhm(0.1)).toBeGreaterThan(0);
    expect(contactOhm(0.5)).toBeLessThan(0.02);
    expect(bathFactor(0.5)).toBeGreaterThan(1.35);
  });

  it("refuse what is out of range, naming it", () => {
    expect(() => learnResistance({ ...PRIOR, contactOhm: 0 }, [])).toThrow(/prior contact/);
    expect(() => learnResistance({ ...PRIOR, bathFactorP90: 1 }, [])).toThrow(/bath factor/);
    expect(() => learnResistance(PRIOR, [load(0, 1)])).toThrow(/current of a load/);
    expect(() => learnResistance(PRIOR, [load(1, 0)])).toThrow(/resistance of the bath/);
  });
});
