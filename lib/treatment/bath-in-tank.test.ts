import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { casting, tub, workshop } from "./fixtures";
import { planPart, type TankOption, type TreatmentPlan } from "./index";

const answerFor = (tanks: readonly TankOption[], temperatureC = 18) =>
  planPart({ part: casting, tanks, workshop: { ...workshop, temperatureC } });

function planIn(tank: TankOption): TreatmentPlan {
  const answer = answerFor([tank]);
  if (!answer.planned) throw new Error(answer.notTaken.map(({ why }) => why).join("; "));
  return answer.plan;
}

describe("a bath that the model cannot judge", () => {
  const outOfReach = [
    ["too strong", { carbonateG: 0, bicarbonateG: 9000, volumeL: 130 }, 18, "mass %"],
    ["not all dissolved", { carbonateG: 10_500, bicarbonateG: 0, volumeL: 130 }, 2, "dissolved"],
  ] as const;

  it.each(outOfReach)(
    "(%s) rules out its own tank and not the others",
    (_, bath, temperatureC, words) => {
      const answer = answerFor([{ ...tub, id: "odd", bath }, tub], temperatureC);
      expect(answer).toMatchObject({ planned: true, plan: { tankId: "tub" } });
      const notTaken = answer.planned ? answer.plan.notTaken : answer.notTaken;
      expect(notTaken).toMatchObject([{ tankId: "odd" }]);
      expect(notTaken[0]?.why).toContain("bath cannot be planned with");
      expect(notTaken[0]?.why).toContain(words);
    },
  );

  it("is the reason when there is no other tank", () => {
    const bath = { carbonateG: 0, bicarbonateG: 9000, volumeL: 130 };
    expect(answerFor([{ ...tub, bath }])).toMatchObject({
      planned: false,
      notTaken: [{ tankId: "tub" }],
    });
  });

  it("does not hide a workshop temperature that cannot be", () => {
    expect(() => answerFor([tub], 55)).toThrow(/temperature must be from 0 to 50 °C, got 55/);
  });
});

describe("a tank whose working level is above its rim", () => {
  it("is left out with the reason, and the next one is taken", () => {
    const answer = answerFor([{ ...tub, id: "odd", workingLevelMm: 421 }, tub]);
    expect(answer).toMatchObject({
      planned: true,
      plan: { tankId: "tub", notTaken: [{ tankId: "odd" }] },
    });
  });
});

describe("a bath that stands low", () => {
  const low = { ...tub, bath: { carbonateG: 20, bicarbonateG: 0, volumeL: 65 } };

  it("is filled up with water and strengthened to what a fresh mix would be", () => {
    const fresh = planIn(tub);
    const filled = planIn(low);
    expect(filled.figures.conductivitySPerM.value).toBeCloseTo(
      fresh.figures.conductivitySPerM.value,
      9,
    );
    expect(filled.figures.saltG.value + 20).toBeCloseTo(fresh.figures.saltG.value, 6);
    expect(filled.warnings.join(" ")).toContain("fill up with about {64 L} of plain water");
  });

  it("never gets so much soda that the supply is overloaded, however low it stands", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 129, noNaN: true }),
        fc.integer({ min: 2, max: 40 }),
        (volumeL, ratedCurrentA) => {
          const supply = {
            kind: "CHARGER",
            openVoltageV: 13.8,
            innerResistanceOhm: 0.12,
            ratedCurrentA,
            dutyFactor: 0.8,
          } as const;
          const bath = { carbonateG: 0.1, bicarbonateG: 0, volumeL };
          const plan = planIn({ ...tub, supply, bath });
          expect(plan.currentA.high).toBeLessThanOrEqual(0.8 * ratedCurrentA * 1.001);
        },
      ),
      { numRuns: 60 },
    );
  });
});
