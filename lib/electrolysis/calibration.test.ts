import { grams, metres } from "@/lib/units";
import { describe, expect, it } from "vitest";
import { bathConductivity, bathDissolvingShare } from "./bath";
import { leadPairResistance } from "./leads";
import { operatingBand, type OperatingBand } from "./operating-point";
import { anhydrousMass, fromKitchen, SALT_GRADE_FACTS, type SaltGrade } from "./salts";
import { type AnodeArrangement, closedFormShapeLength } from "./shape";
import type { Supply } from "./supply";

/*
 * The model as a whole against what shops see. Common practice, no source: if this fails, the assumptions
 * (rust layer, overvoltages, charge a surface needs) are to be moved, not these cases.
 */
const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13,
  innerResistanceOhm: 0.15,
  ratedCurrentA: 10,
  dutyFactor: 0.8,
};

function drawn(load: {
  readonly volumeL: number;
  readonly temperatureC: number;
  readonly grade: SaltGrade;
  readonly massG: number;
  readonly arrangement: AnodeArrangement;
}): OperatingBand {
  const anhydrousG = anhydrousMass(load.grade, grams(load.massG));
  const carbonate = SALT_GRADE_FACTS[load.grade].salt === "SODIUM_CARBONATE";
  const bath = {
    carbonateMassG: carbonate ? anhydrousG : 0,
    bicarbonateMassG: carbonate ? 0 : anhydrousG,
    volumeL: load.volumeL,
    temperatureC: load.temperatureC,
  };
  const tank = { partAreaM2: 0.1, anodeAreaM2: 0.05, levelM: metres(0.2) };
  return operatingBand({
    supply: charger,
    conductivitySPerM: bathConductivity(bath),
    shapeLengthM: closedFormShapeLength({ ...tank, ...load }),
    partAreaM2: tank.partAreaM2,
    anodeAreaM2: tank.anodeAreaM2,
    leadOhm: leadPairResistance({ oneWayLengthM: 2, areaMm2: 4 }),
    contactOhm: 0.02,
    dissolvingShare: bathDissolvingShare(bath).mean,
  });
}

describe("a weak warm bicarbonate bath of 15 L on a 10 A charger", () => {
  const weak = { volumeL: 15, temperatureC: 30, grade: "BAKING_SODA", massG: 30 } as const;

  it.each(["RING", "TWO_SIDED", "ONE_SIDED"] as const)(
    "with its anode %s keeps the meter near the bottom of its scale",
    (arrangement) => {
      expect(drawn({ ...weak, arrangement }).high.currentA).toBeLessThan(3);
    },
  );

  it("still cleans an open rusty casting of 0.1 m² in 3 to 4 h at 50 A·h/m²", () => {
    const hours = 50 / drawn({ ...weak, arrangement: "RING" }).mid.partDensityAPerM2;
    expect(hours).toBeGreaterThan(3);
    expect(hours).toBeLessThan(4);
  });
});

describe("the usual dose, 80 to 120 mL of powder in 20 L", () => {
  it.each(["SODA_ASH_LIGHT", "SODA_ASH_DENSE", "WASHING_SODA_CRYSTALS", "BAKING_SODA"] as const)(
    "of %s does not overload a 10 A charger",
    (grade) => {
      for (const millilitres of [80, 120]) {
        const { massG } = fromKitchen(grade, millilitres, "MILLILITRE");
        const load = { volumeL: 20, temperatureC: 20, grade, massG, arrangement: "RING" } as const;
        expect(drawn(load).high.ratingShare).toBeLessThan(1);
        expect(drawn(load).mid.partDensityAPerM2).toBeLessThan(50);
      }
    },
  );
});
