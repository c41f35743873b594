import { describe, expect, it } from "vitest";
import { leadAmpacity, type Supply } from "@/lib/electrolysis";
import { squareMillimetres } from "@/lib/units";
import { type Candidate, tryTank } from "./candidate";
import { casting, tub, workshop } from "./fixtures";
import { sizePart } from "./part";
import { planWarnings, type WarningContext } from "./warnings";

const chosen = ((): Candidate => {
  const candidate = tryTank(tub, casting, sizePart(casting), workshop);
  if (typeof candidate === "string") throw new Error(candidate);
  return candidate;
})();
const hours = { p10: 2, p50: 4, p90: 8 };

function said(change: Partial<Candidate>, other: Partial<WarningContext> = {}): string[] {
  const context = { part: casting, chosen: { ...chosen, ...change }, workshop, hours };
  return planWarnings({ ...context, ...other });
}
type Point = Candidate["band"]["mid"];
const driven = (mid: Partial<Point>, high: Partial<Point> = {}): Partial<Candidate> => ({
  band: {
    ...chosen.band,
    mid: { ...chosen.band.mid, ...mid },
    high: { ...chosen.band.high, ...high },
  },
});
const holding = (change: Partial<Candidate["bath"]>): Partial<Candidate> => ({
  bath: { ...chosen.bath, ...change },
});

describe("where a warning begins", () => {
  it("is silent in an everyday plan", () => {
    expect(said({})).toEqual([]);
  });

  it("is just above what the supply carries all day, the middle before the top of the band", () => {
    expect(said(driven({ ratingShare: 1 }, { ratingShare: 1, trips: false }))).toEqual([]);
    expect(said(driven({ ratingShare: 1.004 }))).toEqual([
      "The supply would run at 100 % of what it can carry all day: dilute the bath or shade the anode.",
    ]);
    expect(said(driven({ ratingShare: 1.25 }, { trips: true, ratingShare: 3 }))[0]).toMatch(
      /run at 125 % of what it can carry all day: dilute/,
    );
    const [tripping, ...others] = said(driven({}, { trips: true, ratingShare: 3 }));
    expect(tripping).toMatch(/may switch itself off: begin with less salt, and read the meter/);
    expect(others).toEqual([]);
    expect(said(driven({}, { trips: false, ratingShare: 1.01 }))).toEqual([
      expect.stringMatching(/overloaded at first: read the meter in the first half hour/),
    ]);
  });

  it("is outside of 1 to 50 A/m² on the part", () => {
    const at = (partDensityAPerM2: number): string[] => said(driven({ partDensityAPerM2 }));
    expect(at(50)).toEqual([]);
    expect(at(50.1)).toEqual([
      "More than {50 A/m²} on the part: mostly gas. A weaker bath does as well.",
    ]);
    expect(at(1)).toEqual([]);
    expect(at(0.99)).toEqual([
      expect.stringMatching(/^Less than {1 A\/m²} .*very long\. Check salt, leads and distance\./),
    ]);
  });

  it("is where a battery is flat before nine in ten are done", () => {
    const battery: Supply = {
      kind: "BATTERY",
      openVoltageV: 12.6,
      innerResistanceOhm: 0.02,
      capacityAh: 60,
    };
    const on = (p90: number): string[] =>
      said(
        { ...driven({ currentA: 3 }), tank: { ...chosen.tank, supply: battery } },
        { hours: { ...hours, p90 } },
      );
    // Half of 60 A·h at 3 A: 10 h.
    expect(on(10)).toEqual([]);
    expect(on(10.5)).toEqual([
      "The battery gives this current for about 10.0 h, and the part may need 10.5 h: have a charged one ready.",
    ]);
  });

  it("is where the leads carry less than the top of the band, local codes first", () => {
    const carries = leadAmpacity(squareMillimetres(tub.leadAreaMm2));
    expect(said(driven({}, { currentA: carries }))).toEqual([]);
    const [thin] = said(driven({}, { currentA: carries + 1 }));
    expect(thin).toMatch(
      new RegExp(`leads of {6 mm²} are thin for ${carries + 1} A for hours .*: ${carries} A\\)`),
    );
    expect(thin).toMatch(/Take thicker ones; local codes decide\./);
  });

  it("is where a bath would drop crystals, or the workshop is under 5 °C", () => {
    const litres = chosen.bath.contents.volumeL;
    const strong = { ...chosen.bath.contents, carbonateMassG: 100 * litres };
    const [crystals] = said(holding({ contents: strong }));
    expect(crystals).toMatch(/^This bath drops crystals below {\d+ °C}: keep the workshop warmer/);
    const at = (temperatureC: number): string[] =>
      said({}, { workshop: { ...workshop, temperatureC } });
    expect(at(5)).toEqual([]);
    expect(at(4.9)).toEqual(["A cold bath conducts badly: reckon with longer hours."]);
  });

  it("is at a litre of water that lacks, and at any soda that lacks in a used bath", () => {
    expect(said(holding({ waterToAddL: 0.99 }))).toEqual([]);
    expect(said(holding({ waterToAddL: 1 }))).toEqual([
      "The bath stands low: fill up with about {1 L} of plain water before loading.",
    ]);
    expect(said(holding({ freshMix: false, saltToAddG: 0 }))).toEqual([]);
    expect(said(holding({ freshMix: false, saltToAddG: 41.6 }))).toEqual([
      "The bath is weak: add {42 g} before loading.",
    ]);
    expect(said(holding({ freshMix: true, saltToAddG: 41.6 }))).toEqual([]);
  });

  it("is at the second piece, and says when all together are too many for the supply", () => {
    const of = (quantity: number, ratedCurrentA = 20): string[] =>
      said(
        { tank: { ...chosen.tank, supply: { ...chosen.tank.supply, ratedCurrentA } as Supply } },
        { part: { ...casting, quantity } },
      );
    expect(of(1)).toEqual([]);
    expect(of(2)).toHaveLength(1);
    expect(of(2)[0]).toMatch(
      /^Planned for one piece\. All 2 in one load draw about [\d.]+ A of the supply's 16\.0 A, and take longer\.$/,
    );
    const drawn = Number(/about ([\d.]+) A/.exec(of(8)[0] ?? "")?.[1]);
    const [tooMany] = of(8, drawn / 0.8 - 1);
    expect(tooMany).toMatch(/take longer\. That is more than the supply can carry all day\.$/);
    expect(of(8, drawn / 0.8 + 1)[0]).toMatch(/take longer\.$/);
  });
});
