import { quantityText, type StockUnit } from "@/lib/stock";
import {
  gallonsFromLitres,
  grams,
  inchesFromMillimetres,
  litres,
  millimetres,
  poundsFromGrams,
} from "@/lib/units";

type Larger = { readonly sign: string; readonly of: (quantity: number) => number };

/** Larger units in which big amounts are read more easily, by the unit they are counted in. */
const METRIC: Readonly<Record<StockUnit, Larger | null>> = {
  GRAM: { sign: "kg", of: (quantity) => quantity / 1000 },
  MILLILITRE: { sign: "L", of: (quantity) => quantity / 1000 },
  MILLIMETRE: { sign: "m", of: (quantity) => quantity / 1000 },
  EACH: null,
};

const US: Readonly<Record<StockUnit, Larger | null>> = {
  GRAM: { sign: "lb", of: (quantity) => poundsFromGrams(grams(quantity)) },
  MILLILITRE: { sign: "US gal", of: (quantity) => gallonsFromLitres(litres(quantity / 1000)) },
  MILLIMETRE: { sign: "ft", of: (quantity) => inchesFromMillimetres(millimetres(quantity)) / 12 },
  EACH: null,
};

/**
 * An amount of stock as it is read in a list: exact when small, in the larger unit when big.
 *
 * @example shownQuantity(24_300, "GRAM", "METRIC") // "24.3 kg"
 */
export function shownQuantity(
  quantity: number,
  unit: StockUnit,
  unitSystem: "METRIC" | "US",
): string {
  const larger = (unitSystem === "US" ? US : METRIC)[unit];
  if (!larger || Math.abs(larger.of(quantity)) < 1) return quantityText(quantity, unit);
  return `${Number(larger.of(quantity).toPrecision(4))} ${larger.sign}`;
}
