/** Rate cards: what the shop charges and pays, each from its day on. */
import type { RateCard as Rates } from "@/lib/pricing";
import type { Db } from "./client";
import type { RateCard } from "./generated/client";

/** A rate card as stored; the currency is the shop's. */
export type NewRateCard = Omit<Rates, "currency"> & { readonly validFrom: Date };
export type RateCardRow = NewRateCard & { readonly id: string };

/**
 * The card in force on a day: the newest that is not after it.
 *
 * @param day calendar day of the shop, as midnight UTC
 * @returns null before the first card
 */
export async function rateCardOn(db: Db, day: Date): Promise<RateCardRow | null> {
  const card = await db.rateCard.findFirst({
    where: { validFrom: { lte: day } },
    orderBy: { validFrom: "desc" },
  });
  return card && asRateCardRow(card);
}

/** All cards, newest first. */
export async function listRateCards(db: Db): Promise<readonly RateCardRow[]> {
  const cards = await db.rateCard.findMany({ orderBy: { validFrom: "desc" } });
  return cards.map(asRateCardRow);
}

/**
 * Writes a card that holds from its day on.
 *
 * @throws Refusal conflict where a card from that day is there already (unique key)
 */
export async function insertRateCard(db: Db, card: NewRateCard): Promise<string> {
  const row = await db.rateCard.create({ data: card, select: { id: true } });
  return row.id;
}

/** The JSON columns hold what `checkRateCard` took, and text columns one of its choices, which the database checks. */
function asRateCardRow(card: RateCard): RateCardRow {
  return card as unknown as RateCardRow;
}
