import { describe, expect, it } from "vitest";
import { countedShare } from "./coverage";
import { learnHours, learnedRange, spreadOf, USUAL_SPREAD } from "./hours";
import { learnResistance } from "./tank-resistance";
import { learnLossFactor } from "./weighings";

const prior = { mean: 0.15, error: 0.15 };
const hung = { massG: 2000, errorG: 5, mostLossG: 0 };
const tank = { contactOhm: 0.02, bathFactorP90: 1.35 };
const load = { currentA: 15, bathOhm: 0.3, leftV: 5 };
const run = { classKey: "A", needed: { least: 1, most: 2 }, spread: USUAL_SPREAD };

/** What is refused, and the name, the value and the unit that the error gives. */
const REFUSED: readonly (readonly [string, () => unknown, RegExp])[] = [
  ["hours of nought", () => spreadOf({ p10: 0, p50: 1, p90: 2 }), /P10 of the hours .* h, got 0/],
  [
    "hours without a spread",
    () => spreadOf({ p10: 2, p50: 2, p90: 2 }),
    /spread of the hours .*log/,
  ],
  [
    "a time of nought",
    () => learnHours([{ ...run, needed: { least: 0, most: 0 } }]),
    /most time needed .*of the model's, got 0/,
  ],
  [
    "a time below nought",
    () => learnHours([{ ...run, needed: { least: -1, most: 2 } }]),
    /least time needed .*of the model's, got -1/,
  ],
  [
    "a run without a spread",
    () => learnHours([{ ...run, spread: 0 }]),
    /spread of the hours .*log/,
  ],
  [
    "a quantile without a spread",
    () => learnHours([run]).of("A").quantile(0.5, 0),
    /spread of the hours .*log.*got 0/,
  ],
  [
    "the last of all shares",
    () => learnHours([run]).of("A").quantile(1, 0.3),
    /share .*share.*got 1/,
  ],
  ["no cases", () => countedShare(0, 0), /cases counted .* runs, got 0/],
  ["more hits than cases", () => countedShare(3, 2), /hits .* 2 runs, got 3/],
  ["φ above 1", () => learnLossFactor({ ...prior, mean: 2 }, [hung]), /loss factor .*share.*got 2/],
  [
    "a prior that is sure",
    () => learnLossFactor({ ...prior, error: 0 }, [hung]),
    /error of the prior loss factor .*share.*got 0/,
  ],
  [
    "no mass",
    () => learnLossFactor(prior, [{ ...hung, massG: 0 }]),
    /mass of the anode .* g, got 0/,
  ],
  ["a perfect scale", () => learnLossFactor(prior, [{ ...hung, errorG: 0 }]), /scale .* g, got 0/],
  [
    "a loss below nought",
    () => learnLossFactor(prior, [{ ...hung, mostLossG: -1 }]),
    /loss at a loss factor of 1 .*got -1/,
  ],
  [
    "contacts of nought",
    () => learnResistance({ ...tank, contactOhm: 0 }, [load]),
    /prior contact resistance .* Ω, got 0/,
  ],
  [
    "a bath that is sure",
    () => learnResistance({ ...tank, bathFactorP90: 1 }, [load]),
    /bath factor's P90 .*log.*got 0/,
  ],
  [
    "a load without current",
    () => learnResistance(tank, [{ ...load, currentA: 0 }]),
    /current of a load .* A, got 0/,
  ],
  [
    "a bath without resistance",
    () => learnResistance(tank, [{ ...load, bathOhm: 0 }]),
    /resistance of the bath .* Ω, got 0/,
  ],
];

describe("learning refuses", () => {
  it.each(REFUSED)("%s", (_what, call, words) => {
    expect(call).toThrow(RangeError);
    expect(call).toThrow(words);
  });

  it("nothing that can be: a range of a class stays a range", () => {
    const { p10, p50, p90 } = learnedRange(learnHours([run]).of("A"), { p10: 2, p50: 3, p90: 5 });
    expect(p10).toBeLessThan(p50);
    expect(p50).toBeLessThan(p90);
  });
});
