import { ANODE, operatingPoint } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import {
  bathAsMixed,
  type Circumstance,
  fewAnodes,
  type Growth,
  KNOWN,
  modelOf,
  seriesFamily,
  sideView,
  soundAnodes,
  spanOf,
} from "./families";
import { EXPECTED, TUB } from "./fixtures";

const at = (hours: number, change: Partial<Circumstance> = {}): Circumstance => ({
  hours,
  warmth: 1,
  levelShare: 1,
  ...change,
});
const model = modelOf(EXPECTED, [at(1), at(3)], false);
const passive = (): number => 0;

describe("how a sound anode behaves", () => {
  it("is passive, as the plan has it, active, or bright and settling in an hour and a half", () => {
    const anodes = soundAnodes(model);
    expect(anodes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const after = (hours: number): number[] => anodes.map(({ state }) => state(hours));
    expect(after(0)).toEqual([0, 0.2, 1, 1]);
    expect(after(1.5)).toEqual([0, 0.2, 1, expect.closeTo(Math.exp(-1), 12)]);
  });

  it("is steady or settling where the fault itself changes", () => {
    const anodes = fewAnodes(model);
    expect(anodes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const after = (hours: number): number[] => anodes.map(({ state }) => state(hours));
    expect(after(0)).toEqual([0.1, 0.2]);
    expect(after(3)).toEqual([0.1, expect.closeTo(0.2 * Math.exp(-2), 12)]);
  });
});

describe("modelOf", () => {
  it("tells bath from what stands in series with it", () => {
    // 0.5 S/m over 0.8 m; 0.02 Ω of leads and 0.03 Ω of contacts.
    expect(model.bathOhm).toBeCloseTo(2.5, 12);
    expect(model.fixedOhm).toBeCloseTo(0.05, 12);
    expect(model.wholeOhm).toBeCloseTo(2.55, 12);
    expect(model.x).toEqual({ mean: 0, deviation: EXPECTED.bathErrorLog });
  });

  it("spans to the last reading, half an hour at least", () => {
    expect(spanOf(model)).toBe(3);
    expect(spanOf(modelOf(EXPECTED, [at(0.1)], false))).toBe(0.5);
    expect(spanOf(modelOf(EXPECTED, [], false))).toBe(0.5);
  });
});

describe("seriesFamily", () => {
  const told = (growth: Growth, x: number, s: number, where = at(1)) => {
    const one = modelOf(EXPECTED, [where], false);
    const [shown] = seriesFamily(one, passive, KNOWN, growth).predict(x, s);
    if (!shown) throw new Error("there is a reading");
    return shown;
  };
  /** What the tank would draw with these conductivity and contacts. */
  const exact = (conductivitySPerM: number, contactOhm = TUB.contactOhm): number =>
    Math.log(operatingPoint({ ...TUB, conductivitySPerM, contactOhm }, ANODE.PASSIVE).currentA);

  it.each<[string, Growth, number, number, Circumstance, number]>([
    ["nothing", {}, 0, 0, at(1), exact(0.5)],
    ["a bath that is off", {}, Math.log(1.2), 0, at(1), exact(0.5 / 1.2)],
    ["warmth", {}, 0, 0, at(1, { warmth: 1.3 }), exact(0.65)],
    ["a low level", {}, 0, 0, at(1, { levelShare: 0.5 }), exact(0.25)],
    ["a bath grown by half", { bath: () => 0.5 }, 0, 0, at(1), exact(0.5 / 1.5)],
    [
      "a severity that doubles it",
      { bath: () => 0.5 },
      0,
      Math.log(2),
      at(1, { warmth: 1.2 }),
      exact((0.5 * 1.2) / 2),
    ],
    [
      "all of it again in series",
      { series: () => 1 },
      0,
      Math.log(0.6),
      at(1),
      exact(0.5, 0.03 + 0.6 * 2.55),
    ],
    [
      "growth by the hour",
      { series: ({ hours }) => hours / 4 },
      0,
      0,
      at(2),
      exact(0.5, 0.03 + 1.275),
    ],
  ])("draws what the tank would with %s", (_what, growth, x, s, where, lnAmps) => {
    expect(told(growth, x, s, where).lnAmps).toBeCloseTo(lnAmps, 2);
  });

  it("has what flickers spread by its part of the resistance", () => {
    const { flickerAmps, flickerVolts, ampsByS, voltsByS } = told(
      { series: () => 1, flicker: 0.4 },
      0,
      0,
    );
    // ln amps moves by the slope along s, which is the added share as well.
    expect(Math.sqrt(flickerAmps)).toBeCloseTo(0.4 * Math.abs(ampsByS), 9);
    expect(Math.sqrt(flickerVolts)).toBeCloseTo(0.4 * Math.abs(voltsByS), 9);
    expect(told({ series: () => 1 }, 0, 0).flickerAmps).toBe(0);
  });

  it("lies between the passive and the active anode", () => {
    const shown = (dissolving: number) =>
      seriesFamily(model, () => dissolving, KNOWN, {}).predict(0, 0)[0];
    const [still, half, busy] = [shown(0), shown(0.5), shown(1)];
    const middle = (key: "lnAmps" | "lnVolts" | "ampsByX" | "voltsByX"): void => {
      expect(half?.[key]).toBeCloseTo(((still?.[key] ?? 0) + (busy?.[key] ?? 0)) / 2, 9);
    };
    middle("lnAmps");
    middle("lnVolts");
    middle("ampsByX");
    middle("voltsByX");
    expect(busy?.lnAmps).toBeGreaterThan(still?.lnAmps ?? Infinity);
  });
});

describe("a measured conductivity", () => {
  it("is seen as its logarithm with its own error", () => {
    const predict = (s: number) => ({ value: s, byS: 1 });
    const view = sideView({ ratio: 0.8, errorShare: 0.1 }, predict);
    expect(view?.seen).toBeCloseTo(Math.log(0.8), 12);
    expect(view?.variance).toBeCloseTo(0.01, 12);
    expect(view?.predict(3)).toEqual({ value: 3, byS: 1 });
    expect(sideView(null, predict)).toBeUndefined();
  });

  it("is as planned where the fault leaves the bath as it was mixed", () => {
    const measured = modelOf(
      { ...EXPECTED, conductivity: { ratio: 1.1, errorShare: 0.2 } },
      [at(1)],
      false,
    );
    const view = bathAsMixed(measured);
    expect(view?.seen).toBeCloseTo(Math.log(1.1), 12);
    for (const s of [-1, 0, 2]) expect(view?.predict(s)).toEqual({ value: 0, byS: 0 });
    expect(bathAsMixed(model)).toBeUndefined();
  });
});
