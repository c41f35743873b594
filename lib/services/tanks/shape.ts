import type { SupplyRow, TankDescription, TankRow } from "@/lib/data";
import { type Supply } from "@/lib/electrolysis";
import { capacity, levelFor, type TankShape } from "@/lib/tanks";
import type { TankOption } from "@/lib/treatment";
import { litres } from "@/lib/units";

type Measures = Pick<
  TankDescription,
  "kind" | "topLengthMm" | "topWidthMm" | "bottomLengthMm" | "bottomWidthMm" | "depthMm" | "marks"
>;

/** The shape of a tank as lib/tanks knows it. */
export function tankShape(tank: Measures): TankShape {
  const { depthMm } = tank;
  switch (tank.kind) {
    case "TAPERED_BOX":
      return {
        kind: "TAPERED_BOX",
        topLengthMm: tank.topLengthMm,
        topWidthMm: tank.topWidthMm,
        bottomLengthMm: tank.bottomLengthMm,
        bottomWidthMm: tank.bottomWidthMm,
        depthMm,
      };
    case "ROUND":
      return {
        kind: "ROUND",
        topDiameterMm: tank.topLengthMm,
        bottomDiameterMm: tank.bottomLengthMm,
        depthMm,
      };
    case "MEASURED":
      return {
        kind: "MEASURED",
        marks: tank.marks,
        // The free space is what is there at the narrower end.
        lengthMm: Math.min(tank.topLengthMm, tank.bottomLengthMm),
        widthMm: Math.min(tank.topWidthMm, tank.bottomWidthMm),
        depthMm,
      };
  }
}

/** Level of a bath of so many litres, mm; to the rim when it is more than the tank holds. */
export function bathLevel(tank: Measures, volumeL: number): number {
  const shape = tankShape(tank);
  return levelFor(shape, litres(Math.min(volumeL, capacity(shape))));
}

/** A supply as lib/electrolysis knows it. A battery without a capacity counts as a small one, 40 A·h (assumption). */
export function electricSupply(row: Omit<SupplyRow, "tanks">): Supply {
  switch (row.kind) {
    case "CHARGER":
      return {
        kind: "CHARGER",
        openVoltageV: row.openVoltageV,
        innerResistanceOhm: row.innerResistanceOhm,
        ratedCurrentA: row.ratedCurrentA,
        dutyFactor: row.dutyFactor,
        overCurrent: row.overCurrent,
      };
    case "BENCH":
      return {
        kind: "BENCH",
        voltageV: row.openVoltageV,
        currentLimitA: row.ratedCurrentA,
        dutyFactor: row.dutyFactor,
      };
    case "BATTERY":
      return {
        kind: "BATTERY",
        openVoltageV: row.openVoltageV,
        innerResistanceOhm: row.innerResistanceOhm,
        capacityAh: row.capacityAh ?? 40,
      };
  }
}

/** A tank as the planner takes it: what it is and what is in it now. */
export function tankOption(tank: TankRow): TankOption {
  const areaM2 = tank.anodes.reduce((sum, anode) => sum + anode.wettedAreaM2, 0);
  const weighted = tank.anodes.reduce((sum, a) => sum + a.lossFactor * a.wettedAreaM2, 0);
  return {
    id: tank.id,
    name: tank.name,
    shape: tankShape(tank),
    workingLevelMm: tank.workingLevelMm,
    clearanceMm: tank.clearanceMm,
    anode: areaM2 > 0 ? { areaM2, lossFactor: weighted / areaM2 } : null,
    bath: tank.bath && {
      carbonateG: tank.bath.carbonateG,
      bicarbonateG: tank.bath.bicarbonateG,
      volumeL: tank.bath.volumeL,
    },
    supply: tank.supply && electricSupply(tank.supply),
    supplyEfficiency: tank.supply?.efficiency ?? 1,
    leadLengthM: tank.leadLengthM,
    leadAreaMm2: tank.leadAreaMm2,
    contactOhm: tank.contactOhm,
  };
}
