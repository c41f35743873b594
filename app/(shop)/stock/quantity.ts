import { quantityText, type StockUnit } from "@/lib/stock";
import { formatMeasure, type MeasureKind, type UnitSystem } from "@/lib/units";

/** What a quantity measures, by the unit that its item is counted in; pieces measure nothing. */
export const QUANTITY_KINDS: Readonly<Record<StockUnit, MeasureKind | null>> = {
  GRAM: "salt",
  MILLILITRE: "liquid",
  MILLIMETRE: "length",
  EACH: null,
};

/** What the mass of one unit measures; a gram weighs a gram, and what a millilitre weighs is told in g. */
export const MASS_KINDS: Readonly<Record<StockUnit, MeasureKind | null>> = {
  GRAM: null,
  MILLILITRE: null,
  MILLIMETRE: "lineMass",
  EACH: "salt",
};

/** Metric units in which big amounts are read more easily: a thousand of the unit counted in. */
const METRIC_THOUSANDS: Readonly<Record<StockUnit, string | null>> = {
  GRAM: "kg",
  MILLILITRE: "L",
  MILLIMETRE: "m",
  EACH: null,
};

const MILLIMETRES_PER_FOOT = 304.8;

/**
 * An amount of stock as it is read in a list: exact when small, in the larger unit when big.
 *
 * @example shownQuantity(24_300, "GRAM", "METRIC") // "24.3 kg"
 * @example shownQuantity(24_300, "GRAM", "US") // "53.6 lb"
 */
export function shownQuantity(quantity: number, unit: StockUnit, units: UnitSystem): string {
  if (units === "US") return inUs(quantity, unit);
  const larger = METRIC_THOUSANDS[unit];
  if (!larger || Math.abs(quantity) < 1000) return quantityText(quantity, unit);
  return `${Number((quantity / 1000).toPrecision(4))} ${larger}`;
}

function inUs(quantity: number, unit: StockUnit): string {
  const kind = QUANTITY_KINDS[unit];
  if (kind === null) return quantityText(quantity, unit);
  if (unit === "MILLIMETRE" && Math.abs(quantity) >= MILLIMETRES_PER_FOOT) {
    return formatMeasure("distance", quantity / 1000, "US");
  }
  return formatMeasure(kind, quantity, "US");
}

/**
 * An amount of stock as it stands in the ledger: nothing rounded that was typed.
 *
 * @example exactQuantity(453.592, "GRAM", "US") // "16 oz"
 */
export function exactQuantity(quantity: number, unit: StockUnit, units: UnitSystem): string {
  const kind = QUANTITY_KINDS[unit];
  if (units === "METRIC" || kind === null) return quantityText(quantity, unit);
  return formatMeasure(kind, quantity, units, { decimals: 3 });
}
