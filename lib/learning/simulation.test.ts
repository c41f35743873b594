/**
 * Simulated shops, anodes and tanks whose truth is known. Their chance comes in other forms than the fits assume:
 * uniform shop means, two-sided exponential offsets, gamma-distributed times, uniform meter errors.
 */
import { describe, expect, it } from "vitest";
import { type HoursObservation, learnHours, USUAL_SPREAD } from "./hours";
import { timeNeeded } from "./outcome";
import { learnResistance, type LoadAtMeter } from "./tank-resistance";
import { type AnodeScale, learnLossFactor } from "./weighings";

/** Mulberry32 and what is drawn from it. */
function chanceOf(seed: number) {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = (least: number, most: number): number => least + (most - least) * uniform();
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const laplace = (scale: number): number =>
    (uniform() < 0.5 ? -1 : 1) * scale * -Math.log(1 - uniform());
  /** Mean `shape`: Marsaglia and Tsang's method, for shapes of 1 and above. */
  const gamma = (shape: number): number => {
    const d = shape - 1 / 3;
    for (;;) {
      const x = normal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v))
        return d * v;
    }
  };
  return {
    uniform,
    between,
    normal,
    laplace,
    gamma,
    whole: (n: number) => Math.floor(uniform() * n),
  };
}
type Chance = ReturnType<typeof chanceOf>;

const CLASSES = ["A", "B", "C", "D", "E"] as const;

/** A shop with its own mean, offsets, scatter, and habit of leaving loads in unattended. */
function openShop(chance: Chance) {
  const mean = chance.between(-0.45, 0.45);
  const offsets = new Map(CLASSES.map((key) => [key, chance.laplace(0.12)]));
  const scatter = chance.between(0.55, 1.05);
  const unattended = chance.between(0.25, 0.55);
  const part = () => {
    const classKey = CLASSES[chance.whole(CLASSES.length)] ?? "A";
    const spread = USUAL_SPREAD * Math.exp(0.2 * chance.normal());
    const shape = 1 / (scatter * spread) ** 2;
    const needed =
      (Math.exp(mean + (offsets.get(classKey) ?? 0)) * chance.gamma(shape)) / (shape - 1 / 3);
    return { classKey, spread, needed };
  };
  const run = (): HoursObservation => {
    const { classKey, spread, needed } = part();
    const outright = { classKey, spread, needed: { least: needed, most: needed } };
    if (chance.uniform() > unattended) return outright;
    // Pulled when the shop opens, whatever the part needed.
    const pulled = Math.exp(0.3 + 0.4 * chance.normal());
    if (needed > pulled) return { ...outright, needed: { least: pulled, most: Infinity } };
    const floor = 0.5 * Math.min(1, pulled);
    const unsure = needed > floor && chance.uniform() < 0.3;
    return { ...outright, needed: { least: unsure ? floor : 0, most: pulled } };
  };
  return { part, run };
}

/** Share of next parts within the 90 % interval, with the spread the fit is told stretched by `stretch`. */
function hoursCoverage(seed: number, shops: number, runs: number, stretch = 1) {
  const chance = chanceOf(seed);
  let [inside, below, total, bounds] = [0, 0, 0, 0];
  for (let shop = 0; shop < shops; shop += 1) {
    const { part, run } = openShop(chance);
    const history = Array.from({ length: runs }, run);
    bounds += history.filter(({ needed }) => needed.least < needed.most).length / runs;
    const learned = learnHours(history);
    for (let next = 0; next < 10; next += 1) {
      const { classKey, spread, needed } = part();
      const share = learned.of(classKey).cdf(Math.log(needed), spread * stretch);
      total += 1;
      if (share >= 0.05 && share <= 0.95) inside += 1;
      if (share <= 0.5) below += 1;
    }
  }
  return { inside: inside / total, below: below / total, bounds: bounds / shops };
}

describe("hours of simulated shops", { timeout: 60_000 }, () => {
  it.each([
    [1, 4],
    [2, 15],
    [3, 60],
  ])(
    "cover 85 to 95 in 100 with their nine-in-ten interval (seed %i, %i runs each)",
    (seed, runs) => {
      const { inside, below, bounds } = hoursCoverage(seed, 80, runs);
      expect(bounds).toBeGreaterThan(0.2);
      expect(bounds).toBeLessThan(0.45);
      expect(inside).toBeGreaterThan(0.85);
      expect(inside).toBeLessThan(0.95);
      expect(below).toBeGreaterThan(0.44);
      expect(below).toBeLessThan(0.56);
    },
  );

  it("would not, were the intervals half as wide or twice as wide", () => {
    expect(hoursCoverage(4, 40, 20, 0.5).inside).toBeLessThan(0.8);
    expect(hoursCoverage(4, 40, 20, 2).inside).toBeGreaterThan(0.95);
  });

  it("are missed in the middle by a shop that takes every pull for the time needed", () => {
    const chance = chanceOf(5);
    let [honest, naive, total] = [0, 0, 0];
    for (let shop = 0; shop < 40; shop += 1) {
      const { part, run } = openShop(chance);
      const history = Array.from({ length: 40 }, run);
      const taken = history.map((one) => {
        const pulled = Number.isFinite(one.needed.most) ? one.needed.most : one.needed.least;
        return { ...one, needed: { least: pulled, most: pulled } };
      });
      const [learned, misled] = [learnHours(history), learnHours(taken)];
      for (let next = 0; next < 10; next += 1) {
        const { classKey, spread, needed } = part();
        total += 1;
        honest += learned.of(classKey).cdf(Math.log(needed), spread) <= 0.5 ? 1 : 0;
        naive += misled.of(classKey).cdf(Math.log(needed), spread) <= 0.5 ? 1 : 0;
      }
    }
    expect(Math.abs(honest / total - 0.5)).toBeLessThan(0.05);
    expect(naive / total).toBeGreaterThan(0.58);
  });

  it("do not run away in a shop that pulls its parts just as they are clean and is never sure", () => {
    const chance = chanceOf(6);
    const medianAfter = (runs: number): number => {
      const history = Array.from({ length: runs }, () => {
        const needed = Math.exp(0.3 * chance.normal());
        const least = timeNeeded([{ ratio: needed, outcome: "CLEAN", timing: null }])?.least ?? 0;
        return { classKey: "A", spread: USUAL_SPREAD, needed: { least, most: needed } };
      });
      return Math.exp(learnHours(history).of("A").quantile(0.5, USUAL_SPREAD));
    };
    expect(medianAfter(30)).toBeGreaterThan(0.65);
    expect(medianAfter(200)).toBeGreaterThan(0.6);
  });
});

describe("loss factors of simulated anodes", () => {
  const coverage = (seed: number, shrink: number): number => {
    const chance = chanceOf(seed);
    let inside = 0;
    const anodes = 600;
    for (let at = 0; at < anodes; at += 1) {
      const truth = 0.3 * chance.gamma(2) * 0.35;
      const scales = weighed(chance, Math.min(1, truth));
      const told = scales.map((scale) => ({ ...scale, errorG: scale.errorG * shrink }));
      const { quantile } = learnLossFactor({ mean: 0.15, error: 0.15 }, told);
      if (quantile(0.05) <= truth && truth <= quantile(0.95)) inside += 1;
    }
    return inside / anodes;
  };

  it("cover 85 to 95 in 100 with their nine-in-ten interval", () => {
    expect(coverage(11, 1)).toBeGreaterThan(0.85);
    expect(coverage(11, 1)).toBeLessThan(0.95);
  });

  it("would not, were the scale told to be three times better than it is", () => {
    expect(coverage(11, 1 / 3)).toBeLessThan(0.7);
  });
});

/** Weighings of an anode of 3 kg: one when hung and one to four after, by a scale that is off like two dice. */
function weighed(chance: Chance, truth: number): readonly AnodeScale[] {
  const errorG = chance.between(3, 10);
  const off = (): number => errorG * Math.sqrt(6) * (chance.uniform() + chance.uniform() - 1);
  const count = 1 + chance.whole(4);
  let mostLossG = 0;
  const scales = [{ massG: 3000 + off(), errorG, mostLossG }];
  for (let at = 0; at < count; at += 1) {
    mostLossG += chance.between(10, 250);
    scales.push({ massG: 3000 - truth * mostLossG + off(), errorG, mostLossG });
  }
  return scales;
}

describe("contacts and baths of simulated tanks", { timeout: 60_000 }, () => {
  const coverage = (seed: number, loads: number, noise = 1) => {
    const chance = chanceOf(seed);
    const tanks = 300;
    let [contacts, baths] = [0, 0];
    for (let at = 0; at < tanks; at += 1) {
      const contactOhm = 0.02 * Math.exp(chance.between(-1.4, 1.4));
      const factor = 1 + chance.laplace(0.17);
      const bath = Math.max(0.5, factor);
      const learned = learnResistance(
        { contactOhm: 0.02, bathFactorP90: 1.35 },
        metered(chance, { contactOhm, bath, loads, noise }),
      );
      if (within(learned.contactOhm, contactOhm)) contacts += 1;
      if (within(learned.bathFactor, bath)) baths += 1;
    }
    return { contacts: contacts / tanks, baths: baths / tanks };
  };
  const within = (quantile: (p: number) => number, truth: number): boolean =>
    quantile(0.05) <= truth && truth <= quantile(0.95);

  it.each([
    [21, 3],
    [22, 12],
    [23, 30],
  ])("cover 85 to 95 in 100 with their nine-in-ten interval (seed %i, %i loads)", (seed, loads) => {
    const { contacts, baths } = coverage(seed, loads);
    expect(contacts).toBeGreaterThan(0.85);
    expect(contacts).toBeLessThanOrEqual(0.95);
    expect(baths).toBeGreaterThan(0.85);
    expect(baths).toBeLessThanOrEqual(0.95);
  });

  it("would not, were the meter four times worse than told", () => {
    const { contacts, baths } = coverage(24, 40, 4);
    expect(Math.min(contacts, baths)).toBeLessThan(0.75);
  });
});

type Truth = {
  readonly contactOhm: number;
  readonly bath: number;
  readonly loads: number;
  readonly noise: number;
};

/** Loads of several sizes; the anode's state moves each load's volts by a uniform 0.6 V either way. */
function metered(chance: Chance, { contactOhm, bath, loads, noise }: Truth): LoadAtMeter[] {
  return Array.from({ length: loads }, () => {
    const currentA = chance.between(3, 20);
    const bathOhm = chance.between(0.25, 2) * (8 / currentA);
    const leftV = currentA * (contactOhm + bathOhm / bath) + noise * chance.between(-0.6, 0.6);
    return { currentA, leftV, bathOhm };
  });
}
