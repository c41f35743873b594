import { expireQuoteVersions, findShop, inTransaction, recordAudit } from "@/lib/data";
import { calendarDay } from "../calendar";
import { dropOffers } from "../mail/quote-mails";

/**
 * Lets the quotes expire whose last valid day is over where the shop is. The worker calls it every quarter of an hour;
 * a repeat finds nothing left to do.
 *
 * @returns how many expired now
 */
export async function expireQuotes(now: Date): Promise<number> {
  return inTransaction(async (db) => {
    const shop = await findShop(db);
    if (!shop) return 0;
    const quoteIds = await expireQuoteVersions(db, calendarDay(now, shop.timeZone));
    for (const subjectId of quoteIds) {
      await dropOffers(db, subjectId);
      await recordAudit(db, {
        actor: null,
        at: now,
        action: "quote.expired",
        subjectType: "quote",
        subjectId,
      });
    }
    return quoteIds.length;
  });
}
