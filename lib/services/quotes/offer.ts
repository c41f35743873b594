import type { QuoteRow, QuoteVersionRow } from "@/lib/data";

/** The version that a customer may see: the newest, unless the shop is still changing it. */
export function offeredVersion(quote: QuoteRow): QuoteVersionRow | null {
  const newest = quote.versions[0];
  return newest && newest.state !== "DRAFT" && newest.state !== "SUPERSEDED" ? newest : null;
}
