import { describe, expect, it } from "vitest";
import { bathConductivity, strongestBathMass } from "@/lib/electrolysis";
import { box, bucket, casting, tub, workshop } from "./fixtures";
import type { PartDescription } from "./part";
import type { TankOption, Workshop } from "./tank-option";
import { mostDose, outlook, plannedSettings, startWhatIf, type WhatIfStart } from "./what-if";

function start(
  part: PartDescription = casting,
  tank: TankOption = tub,
  there: Workshop = workshop,
): WhatIfStart {
  const begun = startWhatIf(part, tank, there);
  if (typeof begun === "string") throw new Error(begun);
  return begun;
}
/** The same start with this in its bath. */
const holding = (begun: WhatIfStart, carbonateMassG: number, bicarbonateMassG: number) => {
  const { bath } = begun.chosen;
  const contents = { ...bath.contents, carbonateMassG, bicarbonateMassG };
  return { ...begun, chosen: { ...begun.chosen, bath: { ...bath, contents } } };
};
const conductivity = (begun: WhatIfStart, doseGPerL: number): number | undefined =>
  outlook(begun, { ...plannedSettings(begun), doseGPerL }).figures.find(({ name }) =>
    /conductivity/.test(name),
  )?.value;

describe("the dose that is tried", () => {
  it("keeps the proportion of a bath of both salts", () => {
    const begun = start(casting, {
      ...tub,
      bath: { carbonateG: 200, bicarbonateG: 400, volumeL: 120 },
    });
    const { contents } = begun.chosen.bath;
    expect(contents.bicarbonateMassG).toBe(2 * contents.carbonateMassG);
    const litreOf = (doseGPerL: number) => ({
      carbonateMassG: doseGPerL / 3,
      bicarbonateMassG: (2 * doseGPerL) / 3,
      volumeL: 1,
      temperatureC: workshop.temperatureC,
    });
    for (const dose of [2, 5, 20]) {
      expect(conductivity(begun, dose)).toBeCloseTo(bathConductivity(litreOf(dose)), 9);
    }
    expect(mostDose(begun, 18)).toBeCloseTo(strongestBathMass(litreOf(3)), 6);
  });

  it.each([
    ["SODA_ASH_LIGHT", 1, 0],
    ["BAKING_SODA", 0, 1],
  ] as const)("is of the shop's own %s in plain water", (saltGrade, carbonate, bicarbonate) => {
    const water = holding(start(casting, tub, { ...workshop, saltGrade }), 0, 0);
    const litre = {
      carbonateMassG: 5 * carbonate,
      bicarbonateMassG: 5 * bicarbonate,
      volumeL: 1,
      temperatureC: workshop.temperatureC,
    };
    expect(conductivity(water, 5)).toBeCloseTo(bathConductivity(litre), 9);
    expect(mostDose(water, 18)).toBeCloseTo(strongestBathMass(litre), 6);
  });

  it("is compared with the usual one as anhydrous salt, whatever water the grade holds", () => {
    const usual = (saltGrade: Workshop["saltGrade"]) => {
      const begun = start(casting, tub, { ...workshop, saltGrade });
      return outlook(begun, plannedSettings(begun)).usualGPerL;
    };
    // 4 to 6 mL a litre at 0.9 g/mL, of which 105.99/124.00 is sodium carbonate.
    expect(usual("SODA_MONOHYDRATE").low).toBeCloseTo(4 * 0.9 * (105.988 / 124.004), 3);
    expect(usual("SODA_MONOHYDRATE").high).toBeCloseTo(6 * 0.9 * (105.988 / 124.004), 3);
  });
});

describe("what is told of other settings", () => {
  it("warns of the cold that is tried, not of the workshop's own", () => {
    const begun = start();
    const at = (temperatureC: number) =>
      outlook(begun, { ...plannedSettings(begun), temperatureC }).warnings.join(" ");
    expect(at(4)).toMatch(/cold bath conducts badly/);
    expect(at(18)).not.toMatch(/cold/);
  });

  it("names hydrogen by the hour, in litres", () => {
    const begun = start();
    const { figures } = outlook(begun, plannedSettings(begun));
    expect(figures.find(({ name }) => name === "hydrogen an hour")?.unit).toBe("L/h");
  });

  it("refuses no pieces and more than a thousand, in pieces", () => {
    const begun = start();
    const of = (pieces: number) => () => outlook(begun, { ...plannedSettings(begun), pieces });
    expect(of(0)).toThrow("pieces must be from 1 to 999 pieces, got 0");
    expect(of(1000)).toThrow(/got 1000/);
    expect(of(2)).not.toThrow();
  });

  const thick: PartDescription = {
    ...box,
    lengthMm: 100,
    widthMm: 100,
    heightMm: 100,
    wallMm: 45,
  };
  const tall: PartDescription = { ...box, lengthMm: 450, widthMm: 60, heightMm: 60 };
  it.each<[string, PartDescription, TankOption]>([
    ["a flat part", casting, tub],
    ["an inside that lags", box, tub],
    ["an inside too small to count", thick, tub],
    ["a hollow part end for end", tall, bucket],
  ])("works the hours of %s into the figure as into the range", (_what, part, tank) => {
    const begun = start(part, tank);
    const { figures, hours } = outlook(begun, plannedSettings(begun));
    expect(figures[0]).toMatchObject({ name: "hours in the bath" });
    expect(figures[0]?.value).toBeCloseTo(hours.p50, 9);
    expect(figures[0]?.low).toBeCloseTo(hours.p10, 9);
    expect(figures[0]?.high).toBeCloseTo(hours.p90, 9);
    expect(begun.chosen.dips).toBe(tank === bucket ? 2 : 1);
  });

  it("tells how many runs what was learned rests on", () => {
    const learned = startWhatIf(casting, tub, workshop, {
      runs: 7,
      pooled: 0.3,
      range: (model) => model,
    });
    if (typeof learned === "string") throw new Error(learned);
    const [hours] = outlook(learned, plannedSettings(learned)).figures;
    const input = (name: RegExp) => hours?.inputs.find((one) => name.test(one.name))?.value;
    expect(input(/runs of parts/)).toBe(7);
    expect(input(/shop's mean/)).toBe(30);
  });
});
