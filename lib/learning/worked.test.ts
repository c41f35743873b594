import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import type { Worked } from "@/lib/units";
import { countedShare } from "./coverage";
import { learnHours, USUAL_SPREAD } from "./hours";
import { learnResistance } from "./tank-resistance";
import { learnLossFactor } from "./weighings";
import {
  workedCoverage,
  workedFactor,
  workedLossFactor,
  workedResistance,
  workedShopFactor,
} from "./worked";

const input = (
  worked: { inputs: readonly { name: string; value: number | string }[] },
  name: RegExp,
) => worked.inputs.find((one) => name.test(one.name))?.value;

describe("learned figures", () => {
  const run = { classKey: "A", needed: { least: 1.5, most: 1.5 }, spread: USUAL_SPREAD };
  const learned = learnHours([run, run, { ...run, classKey: "B" }]);
  const prior = { mean: 0.15, error: 0.15 };
  const scales = [
    { massG: 2000, errorG: 5, mostLossG: 0 },
    { massG: 1800, errorG: 5, mostLossG: 1000 },
  ];
  const tank = { contactOhm: 0.02, bathFactorP90: 1.35 };
  const loads = [{ currentA: 15, bathOhm: 0.3, leftV: 15 * 0.35 }];

  it.each<[string, () => Worked]>([
    ["a class", () => workedFactor("pans with rust", learned.of("A"))],
    ["a class without runs", () => workedFactor("none yet", learnHours([]).of("A"))],
    ["the shop", () => workedShopFactor(learned)],
    ["coverage", () => workedCoverage("done by the high figure", countedShare(18, 20), 90)],
    ["a loss factor", () => workedLossFactor(prior, learnLossFactor(prior, scales))],
    ["contacts", () => workedResistance(0.02, learnResistance(tank, loads)).contact],
    ["a bath", () => workedResistance(0.02, learnResistance(tank, loads)).bath],
  ])("say all of %s", (_of, worked) => {
    expectWholeFigure(worked());
  });
});

describe("learned figures show their working", () => {
  it("a class's factor, as P10, P50 and P90 of the next part", () => {
    const run = { classKey: "A", needed: { least: 1.5, most: 1.5 }, spread: USUAL_SPREAD };
    const late = { ...run, needed: { least: 0, most: 2 } };
    const hours = learnHours([run, run, late]).of("A");
    const worked = workedFactor("pans with rust", hours);
    expect(worked.name).toContain("pans with rust");
    expect(worked.value).toBeCloseTo(Math.exp(hours.quantile(0.5, USUAL_SPREAD)), 9);
    expect(worked.low).toBeCloseTo(Math.exp(hours.quantile(0.1, USUAL_SPREAD)), 9);
    expect(worked.high).toBeCloseTo(Math.exp(hours.quantile(0.9, USUAL_SPREAD)), 9);
    expect(input(worked, /runs of this class/)).toBe(3);
    expect(input(worked, /bound alone/)).toBe(1);
    expect(input(worked, /shop's mean/)).toBe(Math.round(100 * hours.pooled));
    expect(input(worked, /model's own range/)).toBe(1.8);
    expect(worked.standing).toBe("measured here");
    expect(workedFactor("none", learnHours([]).of("A")).standing).toBe("assumption");
  });

  it("the shop's mean", () => {
    const run = { classKey: "A", needed: { least: 1.5, most: 1.5 }, spread: USUAL_SPREAD };
    const learned = learnHours([run, run, { ...run, classKey: "B" }]);
    const worked = workedShopFactor(learned);
    expect(worked).toMatchObject({
      value: learned.shop.p50,
      low: learned.shop.p10,
      high: learned.shop.p90,
      standing: "measured here",
    });
    expect(worked.inputs.map(({ value }) => value)).toEqual([3, 2]);
    expect(workedShopFactor(learnHours([])).standing).toBe("assumption");
  });

  it("coverage in percent beside what it should be", () => {
    const worked = workedCoverage("done by the high figure", countedShare(18, 20), 90);
    expect(worked).toMatchObject({ value: 90, unit: "%", standing: "measured here" });
    expect(worked.low).toBeCloseTo(69.9, 1);
    expect(worked.high).toBeCloseTo(97.2, 1);
    expect(input(worked, /should be/)).toBe(90);
    expect(input(worked, /held/)).toBe(18);
    expect(input(worked, /runs/)).toBe(20);
  });

  it("a loss factor with what it was before", () => {
    const prior = { mean: 0.15, error: 0.15 };
    const hung = { massG: 2000, errorG: 5, mostLossG: 0 };
    const learned = learnLossFactor(prior, [hung, { ...hung, massG: 1800, mostLossG: 1000 }]);
    const worked = workedLossFactor(prior, learned);
    expect(worked.value).toBe(learned.mean);
    expect(worked.low).toBe(learned.quantile(0.1));
    expect(worked.high).toBe(learned.quantile(0.9));
    expect(input(worked, /before/)).toBe("0.15 ± 0.15");
    expect(input(worked, /weighings/)).toBe(1);
    expect(worked.standing).toBe("measured here");
    expect(workedLossFactor(prior, learnLossFactor(prior, [hung])).standing).toBe("assumption");
  });

  it("contacts and bath, and whether the loads tell them apart", () => {
    const prior = { contactOhm: 0.02, bathFactorP90: 1.35 };
    const alike = { currentA: 15, bathOhm: 0.3, leftV: 15 * 0.35 };
    const learned = learnResistance(
      prior,
      Array.from({ length: 40 }, () => alike),
    );
    const { contact, bath } = workedResistance(0.02, learned);
    expect(contact).toMatchObject({ value: learned.contactOhm(0.5), unit: "Ω" });
    expect(contact.low).toBe(learned.contactOhm(0.1));
    expect(contact.high).toBe(learned.contactOhm(0.9));
    expect(bath).toMatchObject({ value: learned.bathFactor(0.5), standing: "measured here" });
    expect(bath.low).toBe(learned.bathFactor(0.1));
    expect(bath.high).toBe(learned.bathFactor(0.9));
    expect(contact.note).toContain("trade off");
    expect(input(contact, /loads/)).toBe(40);
    expect(input(contact, /entered/)).toBe(0.02);
    const none = workedResistance(0.02, learnResistance(prior, [])).contact;
    expect(none.note).toContain("No load");
    expect(none.standing).toBe("assumption");
    const small = { currentA: 3, bathOhm: 3, leftV: 3 * 3.02 };
    const varied = learnResistance(prior, [...Array.from({ length: 20 }, () => small), alike]);
    expect(workedResistance(0.02, varied).contact.note).toContain("learned together");
  });

  it("in units, each input with what it rests on", () => {
    const none = learnHours([]);
    expect(workedFactor("A", none.of("A")).unit).toBe("× model");
    expect(workedShopFactor(none).unit).toBe("× model");
    expect(workedFactor("A", none.of("A")).inputs.map(({ unit }) => unit)).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      "%",
      undefined,
    ]);
    expect(workedFactor("A", none.of("A")).inputs.at(-1)).toMatchObject({
      symbol: "s",
      standing: "assumption",
    });
    expect(workedCoverage("held", countedShare(1, 2), 90).inputs.at(-1)).toMatchObject({
      unit: "%",
      standing: "standard",
    });
    const prior = { mean: 0.15, error: 0.15 };
    expect(workedLossFactor(prior, learnLossFactor(prior, [])).unit).toBe("");
    const tank = { contactOhm: 0.02, bathFactorP90: 1.35 };
    const { contact, bath } = workedResistance(0.02, learnResistance(tank, []));
    expect(contact.inputs.at(-1)).toMatchObject({ unit: "Ω", standing: "entered here" });
    expect(bath).toMatchObject({ unit: "× κ·g", inputs: [{ standing: "measured here" }] });
  });
});
