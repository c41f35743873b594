import { roundHalfEven } from "@/lib/money";
import { roundQuantity } from "./quantity";

/** What an item is bought in: a sack of 10 000 g, a bar of 3000 mm. */
export type Pack = {
  /** in the singular: "sack" */
  readonly name: string;
  /** in the item's unit, above 0 */
  readonly quantity: number;
};

/** What an item says of its pack; the name is empty where it is bought by the unit. */
export type PackColumns = { readonly packName: string; readonly packQuantity: number | null };

/** The pack of an item, or null where it is bought by the unit. */
export function packOf({ packName, packQuantity }: PackColumns): Pack | null {
  return packQuantity === null ? null : { name: packName, quantity: packQuantity };
}

/**
 * An amount in packs, to two decimals, for reading only.
 *
 * @param quantity in the item's unit
 * @example packsText(25_000, { name: "sack", quantity: 10_000 }) // "2.5 sacks"
 * @example packsText(10_000, { name: "sack", quantity: 10_000 }) // "1 sack"
 */
export function packsText(quantity: number, pack: Pack): string {
  const count = Math.round((100 * quantity) / pack.quantity) / 100;
  const about = roundQuantity(count * pack.quantity) === roundQuantity(quantity) ? "" : "about ";
  return `${about}${String(count)} ${count === 1 ? pack.name : plural(pack.name)}`;
}

/** Names of packs are the shop's own words; the usual English endings do. */
function plural(name: string): string {
  if (/(?:s|x|z|ch|sh)$/i.test(name)) return `${name}es`;
  return `${name}s`;
}

/**
 * What so many packs hold, in the item's unit, to a thousandth.
 *
 * @param packs 0 or more; a broken sack is a fraction
 * @throws RangeError if it is negative or not finite
 * @example quantityOfPacks(2.5, { name: "sack", quantity: 10_000 }) // 25000
 */
export function quantityOfPacks(packs: number, pack: Pack): number {
  if (!(packs >= 0 && Number.isFinite(packs))) {
    throw new RangeError(`packs must be 0 or more, got ${packs}`);
  }
  return roundQuantity(packs * pack.quantity);
}

/**
 * What so many packs cost at a price each, rounded half-even.
 *
 * @param eachMinor whole minor units a pack
 * @returns whole minor units
 * @example costOfPacks(2.5, 1801) // 4502
 */
export function costOfPacks(packs: number, eachMinor: number): number {
  return roundHalfEven(packs * eachMinor);
}
