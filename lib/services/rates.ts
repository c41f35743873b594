import { type Db, rateCardOn, type ShopRow } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { RateCard } from "@/lib/pricing";

/**
 * The rates in force on a day, in the shop's currency.
 *
 * @param day calendar day of the shop, as midnight UTC
 * @throws Refusal not-found where no rate card holds yet on that day
 */
export async function ratesOn(
  db: Db,
  shop: Pick<ShopRow, "currency">,
  day: Date,
): Promise<RateCard> {
  const card = await rateCardOn(db, day);
  if (!card) {
    throw new Refusal(
      "not-found",
      "No rate card holds on this day. The owner writes one under Settings, Rates.",
    );
  }
  const { id: _id, validFrom: _validFrom, ...rates } = card;
  return { ...rates, currency: shop.currency };
}
