import { describe, expect, it } from "vitest";
import {
  bathDissolvingShare,
  leadPairResistance,
  strengthFromSaltPerLitre,
} from "@/lib/electrolysis";
import { gramsPerLitre } from "@/lib/units";
import { tub, workshop } from "./fixtures";
import {
  cellOf,
  cellOrigin,
  lossShare,
  planBath,
  type PlannedBath,
  type ReadyTank,
  strengthPercent,
  type TankOption,
  type Workshop,
} from "./tank-option";

const AREA_M2 = 0.06;
const VOLUME_L = 100;
const ready = (tank: TankOption = tub): ReadyTank => {
  const { anode, supply } = tank;
  if (!anode || !supply) throw new Error("the tub has both");
  return { ...tank, anode, supply };
};
/** A large part on a supply that carries any usual bath. */
const LARGE_M2 = 0.5;
const wide: TankOption = {
  ...tub,
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.8,
    innerResistanceOhm: 0.12,
    ratedCurrentA: 100,
    dutyFactor: 0.8,
  },
};
const measured = { contactOhm: 0.3, bathFactor: 0.5, bathFactorErrorShare: 0.05, loads: 7 };
const bathOf = (
  bath: TankOption["bath"],
  saltGrade: Workshop["saltGrade"] = "SODA_ASH_LIGHT",
  tank: TankOption = wide,
): PlannedBath => {
  const one = ready({ ...tank, bath });
  const there = { ...workshop, saltGrade };
  const planned = planBath(one, cellOf(one, LARGE_M2, VOLUME_L), VOLUME_L, there);
  if (typeof planned === "string") throw new Error(planned);
  return planned;
};

describe("the cell of a part in a tank", () => {
  it("is what was entered and the closed form, until readings say better", () => {
    const entered = cellOf(ready(), AREA_M2, VOLUME_L);
    expect(entered).toMatchObject({
      partAreaM2: AREA_M2,
      anodeAreaM2: 0.42,
      contactOhm: 0.02,
      dissolvingShare: 0.17,
      leadOhm: leadPairResistance({ oneWayLengthM: 2, areaMm2: 6 }),
    });
    expect(entered).not.toHaveProperty("shapeLengthErrorShare");
    const learned = cellOf(ready({ ...tub, measured }), AREA_M2, VOLUME_L);
    expect(learned.contactOhm).toBe(0.3);
    expect(learned.shapeLengthErrorShare).toBe(0.05);
    expect(learned.shapeLengthM).toBeCloseTo(0.5 * entered.shapeLengthM, 12);
    const near = cellOf(ready({ ...tub, clearanceMm: 25 }), LARGE_M2, VOLUME_L);
    const far = cellOf(ready({ ...tub, clearanceMm: 250 }), LARGE_M2, VOLUME_L);
    expect(near.shapeLengthM).toBeGreaterThan(far.shapeLengthM);
    const higher = cellOf(ready({ ...tub, workingLevelMm: 400 }), AREA_M2, VOLUME_L);
    expect(higher.shapeLengthM).not.toBe(entered.shapeLengthM);
  });

  it("tells where its figures come from", () => {
    const entered = cellOrigin(tub);
    expect(entered.contacts).toBeUndefined();
    const learned = cellOrigin({ ...tub, measured: { ...measured, bathFactor: 0.51239 } });
    expect(learned.standing).toBe("measured here");
    expect(learned.source).toBe(
      `${entered.source}, times 0.512 from the readings of 7 loads in this tank`,
    );
    expect(learned.contacts).toEqual({
      standing: "measured here",
      source: "from the readings of 7 loads in this tank",
    });
  });
});

describe("the bath of a load", () => {
  // Light soda ash: 5 mL a litre in the middle at 0.61 g/mL, all of it sodium carbonate.
  const USUAL_G = 5 * 0.61 * VOLUME_L;

  it("is mixed fresh at the middle of the usual dose", () => {
    const bath = bathOf(null);
    expect(bath).toMatchObject({ freshMix: true, waterToAddL: 0 });
    expect(bath.saltToAddG).toBeCloseTo(USUAL_G, 9);
    expect(bath.contents.carbonateMassG).toBeCloseTo(USUAL_G, 9);
    expect(bath.contents).toMatchObject({ bicarbonateMassG: 0, volumeL: 100, temperatureC: 18 });
    expect(bath.strongestGPerL).toBeGreaterThan(3.05);
  });

  it("is of bicarbonate in a shop that mixes from baking soda", () => {
    const { contents, saltToAddG } = bathOf(null, "BAKING_SODA");
    expect(contents.carbonateMassG).toBe(0);
    expect(contents.bicarbonateMassG).toBeCloseTo(saltToAddG, 9);
    expect(saltToAddG).toBeGreaterThan(100);
  });

  it("counts the water that a grade holds: more to weigh out, the same salt", () => {
    const crystals = bathOf(null, "SODA_MONOHYDRATE");
    // 105.99 of 124.00 is sodium carbonate.
    expect(crystals.contents.carbonateMassG / crystals.saltToAddG).toBeCloseTo(0.8547, 4);
    expect(crystals.saltToAddG).toBeCloseTo(5 * 0.9 * VOLUME_L, 6);
  });

  it("is topped up from less than half of that, and left alone from half on", () => {
    const holding = (carbonateG: number): PlannedBath =>
      bathOf({ carbonateG, bicarbonateG: 0, volumeL: VOLUME_L });
    const weak = holding(0.499 * USUAL_G);
    expect(weak.freshMix).toBe(false);
    expect(weak.saltToAddG).toBeCloseTo(0.501 * USUAL_G, 9);
    expect(weak.contents.carbonateMassG).toBeCloseTo(USUAL_G, 9);
    for (const share of [0.501, 1, 2]) {
      expect(holding(share * USUAL_G).saltToAddG).toBe(0);
      expect(holding(share * USUAL_G).contents.carbonateMassG).toBe(share * USUAL_G);
    }
  });

  it("counts both salts that are in it", () => {
    const both = bathOf({
      carbonateG: 0.3 * USUAL_G,
      bicarbonateG: 0.3 * USUAL_G,
      volumeL: VOLUME_L,
    });
    expect(both.saltToAddG).toBe(0);
    const weak = bathOf({ carbonateG: 10, bicarbonateG: 20, volumeL: VOLUME_L });
    expect(weak.saltToAddG).toBeCloseTo(USUAL_G - 30, 9);
    expect(weak.contents.bicarbonateMassG).toBe(20);
    expect(weak.contents.carbonateMassG).toBeCloseTo(USUAL_G - 20, 9);
    const soda = bathOf({ carbonateG: 10, bicarbonateG: 20, volumeL: VOLUME_L }, "BAKING_SODA");
    expect(soda.contents.carbonateMassG).toBe(10);
    expect(soda.contents.bicarbonateMassG).toBeGreaterThan(20);
  });

  it("is filled up with water where it stands low, and keeps what stands higher", () => {
    const low = bathOf({ carbonateG: 400, bicarbonateG: 0, volumeL: 70 });
    expect(low.waterToAddL).toBeCloseTo(30, 12);
    expect(low.contents.volumeL).toBe(100);
    const high = bathOf({ carbonateG: 400, bicarbonateG: 0, volumeL: 120 });
    expect(high.waterToAddL).toBe(0);
    expect(high.contents.volumeL).toBe(120);
  });

  it("is no stronger than the supply carries, however usual the dose", () => {
    const small = {
      kind: "CHARGER",
      openVoltageV: 13.8,
      innerResistanceOhm: 0.12,
      ratedCurrentA: 1,
      dutyFactor: 0.8,
    } as const;
    const bath = bathOf(null, "SODA_ASH_LIGHT", { ...tub, supply: small });
    expect(bath.strongestGPerL).toBeLessThan(3.05);
    expect(bath.contents.carbonateMassG).toBeCloseTo(bath.strongestGPerL * VOLUME_L, 9);
  });
});

describe("what is said of a bath", () => {
  const contents = { carbonateMassG: 300, bicarbonateMassG: 100, volumeL: 100, temperatureC: 18 };

  it("is its strength in the salt there is more of", () => {
    const ofSalt = (salt: "SODIUM_CARBONATE" | "SODIUM_BICARBONATE"): number =>
      strengthFromSaltPerLitre(salt, gramsPerLitre(4));
    expect(strengthPercent(contents)).toBe(ofSalt("SODIUM_CARBONATE"));
    expect(strengthPercent({ ...contents, carbonateMassG: 200, bicarbonateMassG: 200 })).toBe(
      ofSalt("SODIUM_CARBONATE"),
    );
    expect(strengthPercent({ ...contents, carbonateMassG: 100, bicarbonateMassG: 300 })).toBe(
      ofSalt("SODIUM_BICARBONATE"),
    );
    expect(ofSalt("SODIUM_BICARBONATE")).not.toBe(ofSalt("SODIUM_CARBONATE"));
  });

  it("is what it eats of the anode: the anode's own share, as unsure as the salts make it", () => {
    expect(lossShare(ready(), contents)).toEqual({
      mean: 0.17,
      error: bathDissolvingShare(contents).error,
    });
  });
});
