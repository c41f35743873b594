/** Lengths and masses as this shop enters and reads them; stored in mm and g whatever it chooses. */
import {
  gallonsFromLitres,
  grams,
  gramsFromPounds,
  inchesFromMillimetres,
  litres,
  millimetres,
  millimetresFromInches,
  poundsFromGrams,
} from "@/lib/units";

export type UnitSystem = "METRIC" | "US";

export const lengthUnit = (system: UnitSystem): string => (system === "US" ? "in" : "mm");
export const massUnit = (system: UnitSystem): string => (system === "US" ? "lb" : "kg");

/** mm from what was entered. */
export const enteredLength = (value: number, system: UnitSystem): number =>
  system === "US" ? millimetresFromInches(value) : value;

/** g from what was entered in kg or lb. */
export const enteredMass = (value: number, system: UnitSystem): number =>
  system === "US" ? gramsFromPounds(value) : value * 1000;

/** For a field: the stored length in the shop's unit. */
export function lengthValue(mm: number | null | undefined, system: UnitSystem): string {
  if (mm === null || mm === undefined) return "";
  return system === "US" ? trimmed(inchesFromMillimetres(millimetres(mm)), 3) : trimmed(mm, 1);
}

/** For a field: the stored mass in the shop's unit. */
export function massValue(g: number | null | undefined, system: UnitSystem): string {
  if (g === null || g === undefined) return "";
  return system === "US" ? trimmed(poundsFromGrams(grams(g)), 3) : trimmed(g / 1000, 3);
}

/** @example sizeWords([250, 65, 45], "METRIC") // "250 × 65 × 45 mm" */
export function sizeWords(mm: readonly number[], system: UnitSystem): string {
  return `${mm.map((value) => lengthValue(value, system)).join(" × ")} ${lengthUnit(system)}`;
}

export const massWords = (g: number, system: UnitSystem): string =>
  `${massValue(g, system)} ${massUnit(system)}`;

/** @example volumeWords(62, "US") // "16.4 US gal" */
export const volumeWords = (volumeL: number, system: UnitSystem): string =>
  system === "US"
    ? `${trimmed(gallonsFromLitres(litres(volumeL)), 1)} US gal`
    : `${trimmed(volumeL, volumeL < 10 ? 1 : 0)} L`;

/** @example lengthWords(300, "METRIC") // "300 mm" */
export const lengthWords = (mm: number, system: UnitSystem): string =>
  `${system === "US" ? trimmed(inchesFromMillimetres(millimetres(mm)), 1) : trimmed(mm, 0)} ${lengthUnit(system)}`;

const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)));
