import {
  faceHours,
  type PartDescription,
  planPart,
  RUST_GRADE_WORDS,
  RUST_GRADES,
  type TankOption,
} from "@/lib/treatment";
import { describe, expect, it } from "vitest";

/*
 * No published data on treatment hours was found. The hours here are common practice, no source: if a check fails,
 * the priors of the model are to be moved, not the facts of the trade.
 */
const bare = { coatings: [], goal: "RUST_ONLY" } as const;
/** About 10 A/m²: an ordinary load, 1 mA/cm² (shops give 0.5 to 5; common practice, no source). */
const ORDINARY = 10;

describe("hours at an ordinary current density (common practice, no source)", () => {
  it("a lightly rusted open part: 3 to 4 h lies within the range, which is centred within 6 h", () => {
    const { p10, p50, p90 } = faceHours({ ...bare, rustGrade: "B" }, ORDINARY);
    expect(p10).toBeLessThan(3);
    expect(p90).toBeGreaterThan(4);
    expect(p50).toBeLessThan(6);
  });

  it("heavy rust: overnight, 8 to 16 h", () => {
    const { p50 } = faceHours({ ...bare, rustGrade: "D" }, ORDINARY);
    expect(p50).toBeGreaterThan(8);
    expect(p50).toBeLessThan(16);
  });

  it.each(["OIL_PAINT", "SPRAY_ENAMEL"] as const)("paint (%s): 16 to 24 h", (coating) => {
    const painted = { rustGrade: "B", coatings: [coating], goal: "STRIP_TO_METAL" } as const;
    const { p50 } = faceHours(painted, ORDINARY);
    expect(p50).toBeGreaterThanOrEqual(16);
    expect(p50).toBeLessThanOrEqual(24);
  });
});

describe("a weak warm bicarbonate bath of 15 L on a 10 A charger (common practice, no source)", () => {
  const casting: PartDescription = {
    quantity: 1,
    shape: "PLATE",
    lengthMm: 250,
    widthMm: 120,
    heightMm: 20,
    wallMm: null,
    massG: 3000,
    areaOverrideM2: 0.1,
    material: "CAST_IRON",
    hardnessHrc: null,
    tensileMpa: null,
    rustGrade: "C",
    ...bare,
    hazards: [],
  };
  // 15 L stand 200 mm deep in a straight tub of 310 × 242 mm.
  const tub: TankOption = {
    id: "tub",
    name: "small tub",
    shape: {
      kind: "TAPERED_BOX",
      topLengthMm: 310,
      topWidthMm: 242,
      bottomLengthMm: 310,
      bottomWidthMm: 242,
      depthMm: 280,
    },
    workingLevelMm: 200,
    clearanceMm: 25,
    anode: { areaM2: 0.05, lossFactor: 0.5 },
    // Weak: just over half the usual dose (35 g here), the weakest that is planned with as it stands.
    bath: { carbonateG: 0, bicarbonateG: 36, volumeL: 15.004 },
    supply: {
      kind: "CHARGER",
      openVoltageV: 13,
      innerResistanceOhm: 0.15,
      ratedCurrentA: 10,
      dutyFactor: 0.8,
    },
    supplyEfficiency: 0.72,
    leadLengthM: 2,
    leadAreaMm2: 4,
    contactOhm: 0.02,
  };
  const answer = planPart({
    part: casting,
    tanks: [tub],
    workshop: { temperatureC: 30, roomVolumeM3: 60, saltGrade: "BAKING_SODA" },
  });

  it("is planned as it stands: the meter near the bottom of its scale, and done in 3 to 4 h", () => {
    if (!answer.planned) throw new Error(answer.notTaken.map(({ why }) => why).join("; "));
    const { currentA, hours, figures } = answer.plan;
    expect(figures.saltG.value).toBe(0);
    expect(currentA.high).toBeLessThan(3);
    expect(hours.p50).toBeGreaterThan(3);
    expect(hours.p50).toBeLessThan(4);
  });
});

describe("rust grades, ISO 8501-1:2007", () => {
  it("are the four of the standard, from adhering mill scale to general pitting", () => {
    expect(RUST_GRADES).toEqual(["A", "B", "C", "D"]);
    expect(RUST_GRADE_WORDS.A).toMatch(/adhering mill scale, little if any rust/);
    expect(RUST_GRADE_WORDS.B).toMatch(/begun to rust.*mill scale begun to flake/);
    expect(RUST_GRADE_WORDS.C).toMatch(/rusted away or can be scraped off, slight pitting/);
    expect(RUST_GRADE_WORDS.D).toMatch(/rusted away, general pitting/);
  });

  it("ask for more charge the worse they are", () => {
    const hours = RUST_GRADES.map((rustGrade) => faceHours({ ...bare, rustGrade }, ORDINARY).p50);
    expect([...hours].sort((a, b) => a - b)).toEqual(hours);
    expect(new Set(hours).size).toBe(4);
  });
});
