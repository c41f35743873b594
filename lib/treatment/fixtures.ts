/** Parts and tanks that the tests of this folder share. */
import type { PartDescription } from "./part";
import type { BenchSupply } from "@/lib/electrolysis";
import type { TankOption } from "./tank-option";

/** A rusty open casting. */
export const casting: PartDescription = {
  quantity: 1,
  shape: "PLATE",
  lengthMm: 250,
  widthMm: 65,
  heightMm: 45,
  wallMm: null,
  massG: 1450,
  areaOverrideM2: null,
  material: "CAST_IRON",
  hardnessHrc: null,
  tensileMpa: null,
  rustGrade: "C",
  coatings: [],
  hazards: [],
  goal: "RUST_ONLY",
};
/** A box of thin sheet, one side open. */
export const box: PartDescription = {
  ...casting,
  shape: "BOX",
  lengthMm: 420,
  widthMm: 200,
  heightMm: 180,
  wallMm: 1.2,
  massG: 3100,
  material: "MILD_STEEL",
};
/** An everyday tub on a 20 A charger, without a bath. */
export const tub: TankOption = {
  id: "tub",
  name: "Blue tub",
  shape: {
    kind: "TAPERED_BOX",
    topLengthMm: 800,
    topWidthMm: 520,
    bottomLengthMm: 720,
    bottomWidthMm: 440,
    depthMm: 420,
  },
  workingLevelMm: 360,
  clearanceMm: 50,
  anode: { areaM2: 0.42, lossFactor: 0.17 },
  bath: null,
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.8,
    innerResistanceOhm: 0.12,
    ratedCurrentA: 20,
    dutyFactor: 0.8,
  },
  supplyEfficiency: 0.72,
  leadLengthM: 2,
  leadAreaMm2: 6,
  contactOhm: 0.02,
};
/** A small round tank on the same charger. */
export const bucket: TankOption = {
  ...tub,
  id: "bucket",
  name: "Bucket",
  shape: { kind: "ROUND", topDiameterMm: 310, bottomDiameterMm: 260, depthMm: 370 },
  workingLevelMm: 310,
  clearanceMm: 35,
  anode: { areaM2: 0.14, lossFactor: 0.45 },
};
/** The workshop in which everything is planned. */
export const workshop = {
  temperatureC: 18,
  roomVolumeM3: 60,
  saltGrade: "SODA_ASH_LIGHT",
} as const;
/** A bench supply that holds 12 V. */
export const bench: BenchSupply = {
  kind: "BENCH",
  voltageV: 12,
  currentLimitA: 10,
  dutyFactor: 1,
};
