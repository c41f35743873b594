import { anodeBetween, ANODE, operatingPoint } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import { type Cause, CAUSES } from "./causes";
import type { Expectation, RunReading } from "./expectation";
import { EXPECTED, MIDDLE, readingAt, TUB } from "./fixtures";
import { type Posterior, posteriorOf } from "./posterior";

/** Nothing is known beside the meter: every cause comes as often as its base rate. */
const UNKNOWN: Expectation = {
  ...EXPECTED,
  bathChargeAhPerL: 20,
  anodeWearShare: null,
  clampHours: null,
  brushedHours: null,
};
const of = (readings: readonly RunReading[], change: Partial<Expectation> = {}): Posterior =>
  posteriorOf(readings, { ...UNKNOWN, ...change });
const odds = (
  { probability, prior }: Posterior,
  one: Cause,
  other: Cause,
): { readonly odds: number; readonly factor: number } => {
  const now = probability[one] / probability[other];
  return { odds: now, factor: now / (prior[one] / prior[other]) };
};
const bell = (off: number, variance: number): number =>
  Math.exp(-(off ** 2) / variance / 2) / Math.sqrt(2 * Math.PI * variance);

describe("odds between causes whose likelihoods are known in closed form", () => {
  // Hardly a current at fewer volts: neither an open lead nor a dead supply, nor quite anything else.
  const amps = 0.08;
  const volts = 9;
  const reading = readingAt(2, 1, { currentA: amps, voltsV: volts });
  /** Meter and model, and the last digit of the meter. */
  const varianceAmps = (noise: number): number => noise ** 2 + 0.03 ** 2 + (0.015 / amps) ** 2;
  const varianceVolts = (noise: number): number => noise ** 2 + (0.05 / volts) ** 2;
  const likelihood = (shownA: number, shownV: number, noise: number): number =>
    bell(Math.log(amps / shownA), varianceAmps(noise)) *
    bell(Math.log(volts / shownV), varianceVolts(noise));

  it.each([undefined, 0.05, 0.2])(
    "are those of bells about what each would show, with noise %s",
    (meterNoise) => {
      const noise = meterNoise ?? 0.05;
      const posterior = of([reading], meterNoise === undefined ? {} : { meterNoise });
      const openLead = likelihood(0.05, 13.8, noise);
      const usual = operatingPoint(TUB, anodeBetween(TUB.dissolvingShare));
      const strange =
        bell(Math.log(amps / usual.currentA), 1.2 ** 2) *
        bell(Math.log(volts / usual.terminalVoltageV), 0.6 ** 2);
      // One and a half in a hundred are kept for what no family stands for.
      const believed = (posterior.probability.SOMETHING_ELSE - 0.015) / 0.985;
      const lead = posterior.probability.LEAD_OPEN / 0.985;
      expect(Math.log(believed / lead)).toBeCloseTo(
        Math.log((0.001 * strange) / (0.02 * openLead)),
        6,
      );
    },
  );

  it("set a dead supply against an open lead by the volts alone", () => {
    const low = readingAt(2, 1, { currentA: 0, voltsV: 1 });
    const variance = 0.05 ** 2 + 0.05 ** 2;
    const { factor } = odds(of([low], { meterNoise: 0.05 }), "SUPPLY_OFF", "LEAD_OPEN");
    expect(Math.log(factor)).toBeCloseTo(
      -(Math.log(1 / 0.3) ** 2) / variance / 2 + Math.log(13.8) ** 2 / variance / 2,
      5,
    );
  });
});

describe("odds of a level that was read", () => {
  // Its family is the sound one at that level: only the level itself tells.
  const factor = (levelMm: number): number =>
    odds(of([readingAt(1, 1, { levelMm })]), "LEVEL_FALLEN", "AS_IT_SHOULD").factor;
  const usual = (wantMm: number): number => Math.exp(-wantMm / 8) / 8;
  const leak = 1 / (0.6 * 300);

  it.each([11, 40, 100])("weigh a leak against a usual want of %d mm", (wantMm) => {
    expect(Math.log(factor(300 - wantMm))).toBeCloseTo(Math.log(leak / usual(wantMm)), 6);
  });

  it("are hopeless for a leak of ten millimetres and less, or none", () => {
    for (const wantMm of [10, 5, 0]) {
      expect(Math.log(factor(300 - wantMm))).toBeCloseTo(-20 - Math.log(usual(wantMm)), 6);
    }
    expect(factor(320)).toBeCloseTo(factor(300), 12);
  });

  it("go by the level that was read last", () => {
    const both = of([readingAt(1, 1, { levelMm: 300 }), readingAt(2, 1, { levelMm: 260 })]);
    const { factor: last } = odds(both, "LEVEL_FALLEN", "AS_IT_SHOULD");
    expect(Math.log(last)).toBeCloseTo(Math.log(leak / usual(40)), 6);
    const since = of([readingAt(1, 1, { levelMm: 260 }), readingAt(2)]);
    const { factor: held } = odds(since, "LEVEL_FALLEN", "AS_IT_SHOULD");
    expect(Math.log(held)).toBeCloseTo(Math.log(leak / usual(40)), 6);
  });
});

describe("odds of reversed leads", () => {
  const factor = (change: Partial<RunReading>, before: readonly RunReading[] = []): number =>
    odds(of([...before, readingAt(2, 1, change)]), "REVERSED", "AS_IT_SHOULD").factor;
  const wrong = { currentA: -MIDDLE.currentA };

  it("are two in a hundred without a sign, and a million to one with it", () => {
    expect(factor({})).toBeCloseTo(0.02, 9);
    expect(factor(wrong) / 1e6).toBeCloseTo(1, 6);
    expect(factor({ voltsV: -12 }) / 1e6).toBeCloseTo(1, 6);
    expect(factor({ ...wrong, voltsV: -12 }) / 1e6).toBeCloseTo(1, 6);
  });

  it("go by the last reading, and nought is no sign", () => {
    expect(factor({}, [readingAt(1, 1, wrong)])).toBeCloseTo(0.02, 9);
    expect(factor({ currentA: 0, voltsV: 0 })).toBeCloseTo(0.02, 9);
  });
});

describe("what holds between readings", () => {
  const shares = (posterior: Posterior): readonly number[] =>
    CAUSES.map((cause) => posterior.probability[cause]);
  const run = (changes: readonly Partial<RunReading>[]): RunReading[] =>
    changes.map((change, index) => readingAt(index + 1, 0.8, change));
  const same = (
    one: readonly Partial<RunReading>[],
    other: readonly Partial<RunReading>[],
  ): void => {
    const others = shares(of(run(other)));
    shares(of(run(one))).forEach((share, index) => {
      expect(share).toBeCloseTo(others[index] ?? Number.NaN, 12);
    });
  };
  const warm = (...all: (number | null)[]) => all.map((temperatureC) => ({ temperatureC }));
  const high = (...all: (number | null)[]) => all.map((levelMm) => ({ levelMm }));

  it("is the temperature read last, before the first that one, and else the plan's", () => {
    same(warm(25, null, 5), warm(25, 25, 5));
    same(warm(null, 25, null), warm(25, 25, 25));
    same(warm(null, null, null), warm(18, 18, 18));
    expect(shares(of(run(warm(25, 25, 5))))).not.toEqual(shares(of(run(warm(25, 5, 5)))));
  });

  it("is the level read last, before the first that one", () => {
    same(high(290, null, 240), high(290, 290, 240));
    same(high(null, 240, null), high(240, 240, 240));
    expect(shares(of(run(high(290, 290, 240))))).not.toEqual(shares(of(run(high(290, 240, 240)))));
  });

  it("is a level within reason: a fifth above the mark at most, a twentieth of it at least", () => {
    same(high(360, 360), high(500, 500));
    const lnWeak = (levelMm: number): number =>
      Math.log(odds(of(run(high(levelMm, levelMm))), "BATH_WEAK", "AS_IT_SHOULD").odds);
    expect(lnWeak(0)).toBeCloseTo(lnWeak(15), 6);
    expect(Math.abs(lnWeak(0) - lnWeak(40))).toBeGreaterThan(1);
  });

  it("is no time from before loading", () => {
    const at = (hour: number): readonly number[] =>
      shares(of([readingAt(hour, 0.8), readingAt(3, 0.8)], { loadedMs: 3_600_000 }));
    expect(at(0.5)).toEqual(at(1));
    expect(at(2)).not.toEqual(at(1));
  });
});

describe("what each cause would show", () => {
  it("counts the warmth: 2 % of the conductivity at 20 °C a kelvin", () => {
    const sure = { bathErrorLog: 0.01 };
    const warm = operatingPoint(
      { ...TUB, conductivitySPerM: (0.5 * 1.16) / 0.96 },
      anodeBetween(TUB.dissolvingShare),
    );
    const reading = readingAt(4, warm.currentA / MIDDLE.currentA, { temperatureC: 28 });
    const { told } = of([reading], sure);
    expect((told.get("AS_IT_SHOULD")?.amps ?? 0) / warm.currentA).toBeCloseTo(1, 2);
    const cold = of([readingAt(4, 1, { temperatureC: 28 })], sure).told.get("AS_IT_SHOULD");
    expect(cold?.amps).toBeGreaterThan(1.08 * MIDDLE.currentA);
  });

  it("is what its best way shows, not its last", () => {
    // A passive anode soon after loading: one that settles would still be bright.
    const passive = operatingPoint(TUB, ANODE.PASSIVE);
    const active = operatingPoint(TUB, ANODE.ACTIVE);
    for (const { currentA } of [passive, active]) {
      const reading = readingAt(0.1, currentA / MIDDLE.currentA);
      const { told } = of([reading, { ...reading, atMs: reading.atMs + 1000 }], {
        bathErrorLog: 0.005,
        meterNoise: 0.005,
      });
      expect((told.get("AS_IT_SHOULD")?.amps ?? 0) / currentA).toBeCloseTo(1, 1);
    }
    expect(active.currentA / passive.currentA).toBeGreaterThan(1.1);
  });

  it("is the usual current the other way round for reversed leads", () => {
    const { told } = of([readingAt(2)]);
    const sound = told.get("AS_IT_SHOULD");
    expect(told.get("REVERSED")).toEqual({
      amps: -(sound?.amps ?? 0),
      volts: -(sound?.volts ?? 0),
    });
  });
});
