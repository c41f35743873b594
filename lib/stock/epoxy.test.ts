import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import {
  cureAt,
  epoxyFaults,
  type EpoxySheet,
  mixEpoxy,
  patchMass,
  potLifeAt,
  volumeOf,
  wearCost,
  writtenOff,
} from ".";

const sheet: EpoxySheet = {
  hardenerPer100ByMass: 50,
  hardenerPer100ByVolume: null,
  densityGPerMl: null,
  referenceC: 20,
  potLifeMin: 40,
  cureHours: 24,
  leastCureC: 10,
};

describe("mixing", () => {
  it("splits an amount by the ratio, and nothing is lost", () => {
    const { resin, hardener } = mixEpoxy(sheet, "MASS", 90);
    expect([resin.value, hardener.value, resin.unit]).toEqual([60, 30, "g"]);
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1000, noNaN: true }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        (total, hardenerPer100ByVolume) => {
          const mix = mixEpoxy({ ...sheet, hardenerPer100ByVolume }, "VOLUME", total);
          expect(mix.resin.value + mix.hardener.value).toBeCloseTo(total, 9);
          expect((100 * mix.hardener.value) / mix.resin.value).toBeCloseTo(
            hardenerPer100ByVolume,
            6,
          );
        },
      ),
    );
  });

  it("never takes one ratio for the other", () => {
    expect(() => mixEpoxy(sheet, "VOLUME", 90)).toThrow("no ratio");
    expect(() => mixEpoxy(sheet, "MASS", 0)).toThrow(RangeError);
  });

  it("weighs a patch, and turns it into volume and back", () => {
    const patch = patchMass(sheet, 0.01, 2);
    expect(patch.value).toBeCloseTo(22);
    expect(patch.standing).toBe("assumption");
    expect(volumeOf(sheet, patch.value).value).toBeCloseTo(20);
    expect(patchMass({ ...sheet, densityGPerMl: 1.6 }, 0.01, 2).value).toBeCloseTo(32);
    expect(() => patchMass(sheet, 0, 2)).toThrow(RangeError);
  });
});

describe("times", () => {
  it("halve with ten kelvin more and double with ten less", () => {
    expect(potLifeAt(sheet, 20).value).toBe(40);
    expect(potLifeAt(sheet, 30).value).toBe(20);
    expect(cureAt(sheet, 10).value).toBe(48);
  });

  it("are none where it does not set", () => {
    expect(() => cureAt(sheet, 9)).toThrow("does not set");
  });

  it("explain themselves", () => {
    const { resin, hardener } = mixEpoxy(sheet, "MASS", 90);
    const figures = [resin, hardener, patchMass(sheet, 0.01, 2), volumeOf(sheet, 3)];
    for (const figure of [...figures, potLifeAt(sheet, 18), cureAt(sheet, 18)]) {
      expectWholeFigure(figure);
    }
  });
});

describe("a sheet", () => {
  it("names what does not fit together", () => {
    expect(epoxyFaults(sheet)).toEqual({});
    const faults = epoxyFaults({
      hardenerPer100ByMass: null,
      hardenerPer100ByVolume: null,
      densityGPerMl: 9,
      referenceC: 5,
      potLifeMin: 0,
      cureHours: 0,
      leastCureC: 10,
    });
    expect(Object.keys(faults).sort()).toEqual([
      "cureHours",
      "densityGPerMl",
      "hardenerPer100ByMass",
      "leastCureC",
      "potLifeMin",
    ]);
    expect(epoxyFaults({ ...sheet, hardenerPer100ByVolume: -1 })).toHaveProperty(
      "hardenerPer100ByVolume",
    );
    expect(epoxyFaults({ ...sheet, hardenerPer100ByMass: 0 })).toHaveProperty(
      "hardenerPer100ByMass",
    );
  });
});

describe("the cost of an anode", () => {
  const hundredths = (least: number, most: number) =>
    fc.integer({ min: least * 100, max: most * 100 }).map((count) => count / 100);
  const life = fc.record({
    costMinor: fc.integer({ min: 0, max: 200_000 }),
    // Hundredths of a gram: doubles as such are drawn from the tiniest on, and wear nothing out.
    usableG: hundredths(10, 2000),
    losses: fc.array(hundredths(0, 800), { minLength: 1, maxLength: 60 }),
  });

  function costs({
    costMinor,
    usableG,
    losses,
  }: typeof life extends fc.Arbitrary<infer T> ? T : never) {
    let [lostG, writtenMinor] = [0, 0];
    const each = losses.map((lossG) => {
      const cost = wearCost({ costMinor, usableG, lostG, writtenMinor }, lossG);
      lostG += lossG;
      writtenMinor += cost;
      return cost;
    });
    return { each, lostG, writtenMinor };
  }

  it("is borne by its runs to the cent once its usable mass is gone, and by nobody twice", () => {
    let used = 0;
    fc.assert(
      fc.property(life, (one) => {
        const { each, lostG, writtenMinor } = costs(one);
        expect(Math.min(...each)).toBeGreaterThanOrEqual(0);
        expect(each.every(Number.isInteger)).toBe(true);
        expect(writtenMinor).toBeLessThanOrEqual(one.costMinor);
        if (lostG >= one.usableG) {
          used += 1;
          expect(writtenMinor).toBe(one.costMinor);
        }
      }),
      { numRuns: 300 },
    );
    expect(used).toBeGreaterThan(100);
  });

  it("is borne by runs and shop together when it comes out early", () => {
    fc.assert(
      fc.property(life, (one) => {
        const { writtenMinor, lostG } = costs(one);
        const share = one.costMinor * Math.min(1, lostG / one.usableG);
        expect(writtenMinor + writtenOff({ costMinor: one.costMinor, writtenMinor })).toBe(
          one.costMinor,
        );
        // Rounded on the sum: never more than half a unit off, however many runs there were.
        expect(Math.abs(writtenMinor - share)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
    );
  });

  it("is mended after a pull was taken back", () => {
    expect(wearCost({ costMinor: 100, usableG: 300, lostG: 100, writtenMinor: 33 }, 100)).toBe(34);
    expect(wearCost({ costMinor: 100, usableG: 300, lostG: 200, writtenMinor: 100 }, 50)).toBe(0);
  });
});
