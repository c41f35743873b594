import type { SupplyView, TankView } from "@/lib/services";
import { millimetresFromInches, type UnitSystem, wireArea } from "@/lib/units";
import type { TankValues } from "./tank-form";

/** Round figures in either system to start from (assumption). */
const USUAL: Readonly<Record<UnitSystem, UsualFigures>> = {
  METRIC: { clearanceMm: 50, leadLengthM: 2, leadAreaMm2: 4 },
  US: {
    clearanceMm: millimetresFromInches(2),
    leadLengthM: millimetresFromInches(72) / 1000,
    leadAreaMm2: wireArea(12),
  },
};
type UsualFigures = Pick<TankValues, "clearanceMm" | "leadLengthM" | "leadAreaMm2">;

/** An empty form. */
export const newTank = (units: UnitSystem): TankValues => ({ ...EMPTY, ...USUAL[units] });

const EMPTY: TankValues = {
  name: "",
  place: "",
  kind: "TAPERED_BOX",
  topLengthMm: null,
  topWidthMm: null,
  bottomLengthMm: null,
  bottomWidthMm: null,
  depthMm: null,
  workingLevelMm: null,
  ...USUAL.METRIC,
  marks: [],
  supplyId: "",
  contactOhm: 0.02,
  notes: "",
};

/** A form that starts from a tank as it is. */
export function valuesOf(tank: TankView["tank"]): TankValues {
  return {
    ...EMPTY,
    tankId: tank.id,
    name: tank.name,
    place: tank.place,
    kind: tank.kind,
    topLengthMm: tank.topLengthMm,
    topWidthMm: tank.topWidthMm,
    bottomLengthMm: tank.bottomLengthMm,
    bottomWidthMm: tank.bottomWidthMm,
    depthMm: tank.depthMm,
    workingLevelMm: tank.workingLevelMm,
    clearanceMm: tank.clearanceMm,
    marks: tank.marks,
    supplyId: tank.supplyId ?? "",
    leadLengthM: tank.leadLengthM,
    leadAreaMm2: tank.leadAreaMm2,
    contactOhm: tank.contactOhm,
    notes: tank.notes,
  };
}

/** Supplies to choose from. */
export const supplyOptions = (supplies: readonly SupplyView[]) =>
  supplies.map(({ id, name }) => ({ value: id, label: name }));
