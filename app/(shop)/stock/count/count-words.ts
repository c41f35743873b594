import { packsText, quantityOfPacks, type Pack, type StockUnit } from "@/lib/stock";
import { isAmbiguousNumber, parseMeasure, plainNumber, type UnitSystem } from "@/lib/units";
import { exactQuantity, QUANTITY_KINDS } from "../quantity";

type Counted = { readonly unit: StockUnit; readonly pack: Pack | null };

/**
 * What was found, in the item's unit, from what was typed in it or in packs.
 *
 * @returns or in words what is wrong with it
 * @example foundAmount("2.5", true, { unit: "GRAM", pack: { name: "sack", quantity: 10_000 } }, "METRIC") // 25000
 */
export function foundAmount(
  typed: string,
  inPacks: boolean,
  { unit, pack }: Counted,
  units: UnitSystem,
): number | string {
  const text = typed.trim();
  const kind = QUANTITY_KINDS[unit];
  const counting = inPacks && pack ? pack : null;
  const found =
    counting || !kind
      ? isAmbiguousNumber(text)
        ? Number.NaN
        : plainNumber(text)
      : parseMeasure(kind, text, units);
  if (typeof found === "string") return found;
  if (text === "" || !(found >= 0 && found <= 1_000_000_000)) {
    return "Type how much is there: 0 or more, with a point for decimals.";
  }
  return counting ? quantityOfPacks(found, counting) : Math.round(found * 1000) / 1000;
}

/** What the ledger says is there, in the unit and in packs. */
export function expectedWords(expected: number, row: Counted, units: UnitSystem): string {
  const amount = exactQuantity(expected, row.unit, units);
  return row.pack ? `${amount} (${packsText(expected, row.pack)})` : amount;
}

/** How a count differs from the ledger. @example differenceWords(-3, "EACH", "METRIC") // "3 pieces fewer than the ledger" */
export function differenceWords(difference: number, unit: StockUnit, units: UnitSystem): string {
  if (difference === 0) return "agrees with the ledger";
  const amount = exactQuantity(Math.abs(difference), unit, units);
  const less = unit === "EACH" ? "fewer" : "less";
  return `${amount} ${difference > 0 ? "more" : less} than the ledger`;
}
