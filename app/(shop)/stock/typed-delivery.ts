import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { input } from "@/lib/server";
import { costOfPacks, quantityOfPacks, type StockUnit } from "@/lib/stock";
import type { UnitSystem } from "@/lib/units";
import { quantityFrom } from "./typed-quantity";
import { minorOf } from "../typed-amount";

/** How much came and what it cost, in packs or in all: fields of a form's schema. */
export const typedDelivery = {
  quantity: input.optionalText(40),
  cost: input.optionalText(40),
  packs: input.optionalNumberFrom(0, 1_000_000, "of them"),
  packPrice: input.optionalText(40),
  packHolds: z.coerce.number().positive().optional(),
};

type TypedDelivery = {
  readonly unit: StockUnit;
  readonly units: UnitSystem;
  readonly quantity: string;
  readonly cost: string;
  readonly packs: number | null;
  readonly packPrice: string;
  readonly packHolds?: number | undefined;
};

/**
 * A delivery as typed, in the item's unit and in minor units of money. How much is told once: in packs or in all; so
 * is the cost: for each pack or in all.
 *
 * @throws Refusal invalid, naming the field
 * @example deliveryFrom({ unit: "GRAM", units: "METRIC", packs: 2, packHolds: 10_000, packPrice: "18", quantity: "", cost: "" }, "EUR")
 *   // { quantity: 20000, costMinor: 3600 }
 */
export function deliveryFrom(
  typed: TypedDelivery,
  currency: string,
): { readonly quantity: number; readonly costMinor: number } {
  const pack = typed.packHolds === undefined ? null : { name: "", quantity: typed.packHolds };
  if (!pack) {
    const quantity = quantityFrom(typed.quantity, typed.unit, typed.units, "quantity");
    return { quantity, costMinor: minorFrom(typed.cost, currency, "cost") };
  }
  once(
    typed.packs !== null,
    typed.quantity !== "",
    "packs",
    "Enter how many came, or how much in all.",
  );
  once(
    typed.packPrice !== "",
    typed.cost !== "",
    "packPrice",
    "Enter the price of one, or the cost in all.",
  );
  const quantity =
    typed.packs === null
      ? quantityFrom(typed.quantity, typed.unit, typed.units, "quantity")
      : quantityOfPacks(typed.packs, pack);
  const costMinor =
    typed.packPrice === ""
      ? minorFrom(typed.cost, currency, "cost")
      : costOfPacks(quantity / pack.quantity, minorFrom(typed.packPrice, currency, "packPrice"));
  return { quantity, costMinor };
}

function once(one: boolean, other: boolean, field: string, message: string): void {
  if (one === other) {
    throw new Refusal("invalid", one ? `${message} Not both.` : message, { [field]: message });
  }
}

/**
 * An amount of money as typed, in minor units.
 *
 * @param field its name in the form, for the refusal
 * @throws Refusal invalid
 */
export function minorFrom(typed: string, currency: string, field: string): number {
  return minorOf(typed, currency) ?? refuseAmount(currency, field, ".");
}

/** The same where nothing typed is no amount: null. @throws Refusal invalid */
export function minorOrNull(typed: string, currency: string, field: string): number | null {
  if (typed === "") return null;
  return minorOf(typed, currency) ?? refuseAmount(currency, field, ", or nothing.");
}

function refuseAmount(currency: string, field: string, end: string): never {
  const why = `Enter an amount in ${currency}, such as 12.50${end}`;
  throw new Refusal("invalid", why, { [field]: why });
}
