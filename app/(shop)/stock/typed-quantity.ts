import { Refusal } from "@/lib/errors";
import { input } from "@/lib/server";
import type { StockUnit } from "@/lib/stock";
import type { MeasureKind, UnitSystem } from "@/lib/units";
import { MASS_KINDS, QUANTITY_KINDS } from "./quantity";

/** The most that a ledger column of three decimals holds with room to spare. */
const MOST = 1_000_000_000;

/**
 * An amount of stock as it was typed, in the unit that its item is counted in, to a thousandth as the ledger has it.
 *
 * @param field its name in the form, for the refusal
 * @throws Refusal invalid, with what was expected
 * @example quantityFrom("5 lb", "GRAM", "METRIC", "quantity") // 2267.962
 */
export function quantityFrom(
  typed: string,
  unit: StockUnit,
  units: UnitSystem,
  field: string,
): number {
  return Math.round(1000 * read(QUANTITY_KINDS[unit], "pieces", typed, units, field)) / 1000;
}

/**
 * Mass of one unit of an item as it was typed, in g: of a millimetre of bar or sheet, or of a piece.
 *
 * @throws Refusal invalid, with what was expected
 * @example massOfOne("1 lb/ft", "MILLIMETRE", "METRIC") // 1.488
 */
export const massOfOne = (typed: string, unit: StockUnit, units: UnitSystem): number =>
  read(MASS_KINDS[unit], "g", typed, units, "gramsPerUnit");

function read(
  kind: MeasureKind | null,
  sign: string,
  typed: string,
  units: UnitSystem,
  field: string,
): number {
  const schema = kind ? input.measureFrom(kind, 0, MOST, units) : input.numberFrom(0, MOST, sign);
  const result = schema.safeParse(typed);
  if (result.success) return result.data;
  const why = result.error.issues[0]?.message ?? "Enter a number.";
  throw new Refusal("invalid", why, { [field]: why });
}
