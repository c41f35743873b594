import { describe, expect, it } from "vitest";
import type { Supply } from "@/lib/electrolysis";
import { type Candidate, currentSpread, rank, tryTank, whyNot } from "./candidate";
import { bucket, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";
import type { TankOption } from "./tank-option";

const tried = (tank: TankOption, part: PartDescription = casting): Candidate | string =>
  tryTank(tank, part, sizePart(part), workshop);
const taken = (tank: TankOption, part: PartDescription = casting): Candidate => {
  const chosen = tried(tank, part);
  if (typeof chosen === "string") throw new Error(chosen);
  return chosen;
};

const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13.8,
  innerResistanceOhm: 0.12,
  ratedCurrentA: 5,
  dutyFactor: 0.8,
};
const strong = { carbonateG: 6000, bicarbonateG: 0, volumeL: 100 };
const bar: PartDescription = { ...casting, lengthMm: 470, widthMm: 40, heightMm: 40, massG: 2000 };

describe("a tank that does not do", () => {
  it.each<[string, TankOption, PartDescription, RegExp]>([
    ["has no anode", { ...tub, anode: null }, casting, /^No anode hangs in it\.$/],
    ["has no supply", { ...tub, supply: null }, casting, /^No supply drives it\.$/],
    [
      "is filled over its rim",
      { ...tub, workingLevelMm: 421 },
      casting,
      /working level is above its rim .*: correct the tank first\.$/,
    ],
    ["is too small", tub, { ...casting, lengthMm: 3000 }, /^Too big: {3000 × 65 × 45 mm}/],
    [
      "would run over",
      { ...tub, workingLevelMm: 415 },
      { ...casting, massG: 60_000 },
      /^The bath would run over the rim\.$/,
    ],
    [
      "cannot be reckoned with",
      { ...tub, bath: { carbonateG: 0, bicarbonateG: 9000, volumeL: 100 } },
      casting,
      /^Its bath cannot be planned with: .+ Dilute or renew it\.$/,
    ],
    [
      "has too few volts",
      { ...tub, supply: { ...charger, openVoltageV: 1 }, bath: { ...strong, carbonateG: 600 } },
      casting,
      /too few volts to start/,
    ],
    [
      "would switch itself off",
      { ...tub, supply: { ...charger, overCurrent: "TRIPS" }, bath: strong },
      casting,
      /would switch itself off: this load draws more than its rating/,
    ],
  ])("%s, and says so", (_what, tank, part, words) => {
    expect(tried(tank, part)).toMatch(words);
  });

  it("is not one that is just full, nor one that trips only above its rating", () => {
    expect(taken({ ...tub, workingLevelMm: 419 }).levelMm).toBeLessThanOrEqual(420);
    expect(tried({ ...tub, workingLevelMm: 420 }, { ...casting, massG: 1 })).toMatch(/run over/);
    expect(taken({ ...tub, supply: { ...charger, overCurrent: "TRIPS" } }).dips).toBe(1);
  });
});

describe("a tank that does", () => {
  it("is worked out for what one dip wets", () => {
    const { areaM2 } = sizePart(bar);
    const whole = taken(tub, bar);
    const turned = taken(bucket, bar);
    expect([whole.dips, turned.dips]).toEqual([1, 2]);
    expect(whole.wetAreaM2).toBe(areaM2.value);
    expect(turned.wetAreaM2).toBe(areaM2.value / 2);
    expect(turned.fit.lie.kind).toBe("END_FOR_END");
    expect(whole.levelMm).toBeGreaterThan(360);
    expect(whole.volumeL).toBeCloseTo(131, -1);
  });
});

describe("the choice among tanks", () => {
  const whole = taken(tub);
  const turned = taken(bucket, bar);
  const of = (change: Partial<Candidate>): Candidate => ({ ...whole, ...change });
  const driven = (ratingShare: number): Candidate["band"] => ({
    ...whole.band,
    mid: { ...whole.band.mid, ratingShare },
  });
  const tilted = of({
    fit: {
      fits: true,
      lie: { kind: "TILTED", tiltDegrees: 20, up: 45, along: 250, across: 65 },
      words: "Goes in tilted.",
    },
  });

  it("takes the smaller bath, but any whole one before a tilted, overloaded or turned one", () => {
    const small = rank(of({ volumeL: 5 }));
    const large = rank(of({ volumeL: 900 }));
    const overloaded = rank(of({ volumeL: 5, band: driven(1.01) }));
    const endForEnd = rank({ ...turned, volumeL: 5 });
    const order = [small, large, rank({ ...tilted, volumeL: 5 }), overloaded, endForEnd];
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(new Set(order).size).toBe(5);
    expect(rank(of({ volumeL: 5, band: driven(1) }))).toBe(small);
  });

  it("says of the others why not", () => {
    const chosen = of({ volumeL: 80 });
    expect(whyNot(turned, chosen)).toBe("Fits only end for end.");
    expect(whyNot(of({ band: driven(1.01) }), chosen)).toMatch(
      /more than its supply can carry all day/,
    );
    expect(whyNot(of({ volumeL: 120.4, band: driven(1) }), chosen)).toBe(
      "Fits, with a larger bath: {120 L} instead of {80 L}.",
    );
    for (const volumeL of [80, 60]) {
      expect(whyNot(of({ volumeL }), chosen)).toBe(`Fits: ${whole.fit.words}`);
    }
  });
});

describe("how far the current may be off", () => {
  const band = (low: number, high: number): Candidate["band"] => {
    const { mid } = taken(tub).band;
    return { low: { ...mid, currentA: low }, mid, high: { ...mid, currentA: high } };
  };
  it("is the root of the band's ends, three times at most, and two where nothing may flow", () => {
    expect(currentSpread(band(2, 8))).toBe(2);
    expect(currentSpread(band(1, 2.25))).toBeCloseTo(1.5, 12);
    expect(currentSpread(band(1, 100))).toBe(3);
    expect(currentSpread(band(0, 8))).toBe(2);
    expect(currentSpread(band(0, 0))).toBe(2);
  });
});
