import type { SupplyView, TankView } from "@/lib/services";
import type { TankValues } from "./tank-form";

/** An empty form. Lead and contact figures are usual ones to start from (assumption). */
export const NEW_TANK: TankValues = {
  name: "",
  place: "",
  kind: "TAPERED_BOX",
  topLengthMm: "",
  topWidthMm: "",
  bottomLengthMm: "",
  bottomWidthMm: "",
  depthMm: "",
  workingLevelMm: "",
  clearanceMm: 50,
  marks: "",
  supplyId: "",
  leadLengthM: 2,
  leadAreaMm2: 4,
  contactOhm: 0.02,
  notes: "",
};

/** A form that starts from a tank as it is. */
export function valuesOf(tank: TankView["tank"]): TankValues {
  return {
    ...NEW_TANK,
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
    marks: tank.marks.map(({ levelMm, volumeL }) => `${levelMm} ${volumeL}`).join("\n"),
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
