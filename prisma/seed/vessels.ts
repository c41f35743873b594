/** The example shop's tanks, supplies and anodes: several shapes, as a real row of vessels has. */
import type { ExampleRows } from "@/lib/data";
import type { Random } from "./random";

type TankRow = ExampleRows["tanks"][number];
type SupplyRow = ExampleRows["supplies"][number];

/** A tank of the example shop with what hangs in it. */
export type ExampleTank = {
  readonly tank: TankRow & { readonly id: string };
  readonly supply: SupplyRow & { readonly id: string };
  readonly anodeId: string;
  readonly anodeMassG: number;
  readonly anodeAreaM2: number;
  readonly lossFactor: number;
  readonly bicarbonate: boolean;
};

type Vessel = {
  readonly tank: Omit<TankRow, "id" | "createdAt" | "supplyId">;
  readonly supply: Omit<SupplyRow, "id" | "createdAt">;
  readonly anodeMassG: number;
  readonly anodeAreaM2: number;
  readonly lossFactor: number;
  readonly bicarbonate?: true;
  readonly marks?: readonly (readonly [levelMm: number, volumeL: number])[];
};

const VESSELS: readonly Vessel[] = [
  {
    tank: {
      name: "Blue tub",
      place: "North wall",
      kind: "TAPERED_BOX",
      topLengthMm: 800,
      topWidthMm: 520,
      bottomLengthMm: 720,
      bottomWidthMm: 440,
      depthMm: 420,
      workingLevelMm: 360,
      leadLengthM: 2,
      leadAreaMm2: 6,
      sortOrder: 1,
      notes: "Everyday tub. Anode bars on the two long walls and one end.",
    },
    supply: {
      name: "Charger 20 A, left shelf",
      kind: "CHARGER",
      openVoltageV: 13.8,
      innerResistanceOhm: 0.12,
      ratedCurrentA: 20,
      efficiency: 0.72,
    },
    anodeMassG: 4200,
    anodeAreaM2: 0.42,
    lossFactor: 0.17,
  },
  {
    tank: {
      name: "Barrel",
      place: "North wall",
      kind: "ROUND",
      topLengthMm: 560,
      topWidthMm: 560,
      bottomLengthMm: 520,
      bottomWidthMm: 520,
      depthMm: 860,
      workingLevelMm: 760,
      leadLengthM: 2.5,
      leadAreaMm2: 10,
      sortOrder: 2,
      notes: "For upright parts. Sheet-steel ring anode.",
    },
    supply: {
      name: "Bench supply 30 A",
      kind: "BENCH",
      openVoltageV: 12,
      innerResistanceOhm: 0,
      ratedCurrentA: 30,
      dutyFactor: 0.9,
      efficiency: 0.85,
    },
    anodeMassG: 7600,
    anodeAreaM2: 0.95,
    lossFactor: 0.14,
  },
  {
    tank: {
      name: "Bucket",
      place: "Bench end",
      kind: "ROUND",
      topLengthMm: 310,
      topWidthMm: 310,
      bottomLengthMm: 260,
      bottomWidthMm: 260,
      depthMm: 370,
      workingLevelMm: 310,
      clearanceMm: 35,
      leadLengthM: 1.5,
      leadAreaMm2: 4,
      sortOrder: 3,
      notes: "Small parts, gentle baking-soda bath.",
    },
    supply: {
      name: "Charger 10 A, bench",
      kind: "CHARGER",
      openVoltageV: 13.2,
      innerResistanceOhm: 0.25,
      ratedCurrentA: 10,
      efficiency: 0.7,
    },
    anodeMassG: 900,
    anodeAreaM2: 0.14,
    lossFactor: 0.45,
    bicarbonate: true,
  },
  {
    tank: {
      name: "Long trough",
      place: "Yard shed",
      kind: "TAPERED_BOX",
      topLengthMm: 1900,
      topWidthMm: 420,
      bottomLengthMm: 1840,
      bottomWidthMm: 380,
      depthMm: 430,
      workingLevelMm: 370,
      leadLengthM: 3,
      leadAreaMm2: 16,
      sortOrder: 4,
      notes: "Gates, rails and long bars.",
    },
    supply: {
      name: "Bench supply 40 A",
      kind: "BENCH",
      openVoltageV: 14,
      innerResistanceOhm: 0,
      ratedCurrentA: 40,
      dutyFactor: 0.9,
      efficiency: 0.86,
    },
    anodeMassG: 9800,
    anodeAreaM2: 1.3,
    lossFactor: 0.16,
  },
  {
    tank: {
      name: "Stock drinker",
      place: "Yard shed",
      kind: "MEASURED",
      topLengthMm: 1150,
      topWidthMm: 700,
      bottomLengthMm: 1150,
      bottomWidthMm: 700,
      depthMm: 460,
      workingLevelMm: 400,
      leadLengthM: 3,
      leadAreaMm2: 10,
      sortOrder: 5,
      notes: "Rounded old drinking trough, measured with a bucket.",
    },
    supply: {
      name: "Charger 25 A, shed",
      kind: "CHARGER",
      openVoltageV: 14.2,
      innerResistanceOhm: 0.09,
      ratedCurrentA: 25,
      efficiency: 0.74,
    },
    anodeMassG: 6100,
    anodeAreaM2: 0.7,
    lossFactor: 0.15,
    marks: [
      [100, 58],
      [200, 127],
      [300, 200],
      [400, 276],
      [460, 322],
    ],
  },
];

/** Adds tanks and supplies to the rows and tells what stands where. */
export function addVessels(rows: ExampleRows, chance: Random, openedAt: Date): ExampleTank[] {
  return VESSELS.map((vessel) => {
    const supply = { ...vessel.supply, id: chance.uuid(), createdAt: openedAt };
    const tank = {
      ...vessel.tank,
      id: chance.uuid(),
      createdAt: openedAt,
      supplyId: supply.id,
    };
    rows.supplies.push(supply);
    rows.tanks.push(tank);
    for (const [levelMm, volumeL] of vessel.marks ?? []) {
      rows.levelMarks.push({ tankId: tank.id, levelMm, volumeL });
    }
    return {
      tank,
      supply,
      anodeId: chance.uuid(),
      anodeMassG: vessel.anodeMassG,
      anodeAreaM2: vessel.anodeAreaM2,
      lossFactor: vessel.lossFactor,
      bicarbonate: vessel.bicarbonate ?? false,
    };
  });
}
