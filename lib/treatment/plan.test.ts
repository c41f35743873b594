import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { box, bucket, casting, tub, workshop } from "./fixtures";
import { planPart } from "./index";

describe("plan", () => {
  it("takes the smallest bath that holds the part whole and says why not the other", () => {
    const small = { ...casting, lengthMm: 120, widthMm: 60, heightMm: 40 };
    const answer = planPart({ part: small, tanks: [tub, bucket], workshop });
    expect(answer).toMatchObject({
      planned: true,
      plan: { tankId: "bucket", freshMix: true, dips: 1 },
    });
    if (answer.planned) expect(answer.plan.notTaken).toMatchObject([{ tankId: "tub" }]);
  });

  it("keeps to the tank somebody asked for when it does", () => {
    const small = { ...casting, lengthMm: 120, widthMm: 60, heightMm: 40 };
    const answer = planPart({
      part: small,
      tanks: [tub, bucket],
      workshop,
      preferredTankId: "tub",
    });
    expect(answer).toMatchObject({ planned: true, plan: { tankId: "tub" } });
  });

  it("says why when no tank does", () => {
    const answer = planPart({
      part: { ...casting, lengthMm: 3000 },
      tanks: [tub, { ...bucket, anode: null }],
      workshop,
    });
    expect(answer.planned).toBe(false);
    expect(answer.planned ? [] : answer.notTaken.map(({ why }) => why)).toEqual([
      expect.stringContaining("Too big"),
      "No anode hangs in it.",
    ]);
  });

  it("never doses a bath beyond what the supply carries all day", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 80, max: 600 }),
        fc.integer({ min: 3, max: 40 }),
        (lengthMm, ratedCurrentA) => {
          const supply = {
            kind: "CHARGER",
            openVoltageV: 13.8,
            innerResistanceOhm: 0.12,
            ratedCurrentA,
            dutyFactor: 0.8,
          } as const;
          const answer = planPart({
            part: { ...casting, lengthMm, widthMm: 200, heightMm: 100 },
            tanks: [{ ...tub, supply }],
            workshop,
          });
          if (answer.planned) expect(answer.plan.ratingShare).toBeLessThanOrEqual(1.0001);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("hangs an inner anode where the inside lags, and the inside lags threefold", () => {
    const answer = planPart({ part: box, tanks: [tub], workshop });
    if (!answer.planned) throw new Error("the box fits the tub");
    const { figures, hours, hoursWithInnerAnode } = answer.plan;
    expect((figures.hoursInside?.value ?? 0) / figures.hoursOutside.value).toBeCloseTo(3, 6);
    expect(hours.p50).toBeCloseTo(figures.hoursInside?.value ?? 0, 9);
    expect(hoursWithInnerAnode?.p50 ?? Infinity).toBeLessThan(hours.p50);
    expect(answer.plan.steps.map((step) => step.title)).toContain("Hang an inner anode");
  });

  it("is plain data and every figure tells its formula, inputs and standing", () => {
    const answer = planPart({ part: box, tanks: [tub], workshop });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
    if (!answer.planned) throw new Error("the box fits the tub");
    for (const figure of Object.values(answer.plan.figures)) {
      if (figure === null || typeof figure === "string") continue;
      expect(Number.isFinite(figure.value)).toBe(true);
      expect(figure.formula).not.toBe("");
      expect(figure.unit).not.toBe("");
    }
  });

  it("asks for the bake of the table after strong steel", () => {
    const axe = { ...casting, material: "HARDENED_STEEL", hardnessHrc: 45 } as const;
    const answer = planPart({ part: axe, tanks: [tub], workshop });
    expect(answer).toMatchObject({
      planned: true,
      plan: { reliefBake: { hours: 18, startWithinHours: 4 } },
    });
  });

  it("tops up a weak bath and leaves a strong one", () => {
    const weak = { ...tub, bath: { carbonateG: 30, bicarbonateG: 0, volumeL: 130 } };
    const strong = { ...tub, bath: { carbonateG: 400, bicarbonateG: 0, volumeL: 130 } };
    const answers = [weak, strong].map((tank) =>
      planPart({ part: casting, tanks: [tank], workshop }),
    );
    const added = answers.map((answer) => (answer.planned ? answer.plan.figures.saltG.value : -1));
    expect(added[0]).toBeGreaterThan(100);
    expect(added[1]).toBe(0);
  });
});
