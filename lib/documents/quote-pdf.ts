import { PALETTE } from "./palette";
import { answerSection, termsSection } from "./quote-answer";
import { cautionsSection, partsSection, priceSection } from "./quote-body";
import { quoteHead } from "./quote-head";
import { isCompared, optionsSection } from "./quote-options";
import { PAGE, Sheet, STYLES } from "./sheet";
import type { QuoteDocument, QuoteDocumentOption } from "./types";
import { firstLines } from "./wrap";

const FOOT_Y = 750;

/**
 * A quote on paper: A4, everything within what US Letter shows too, tagged for screen readers, fonts embedded. Long
 * lists go on over pages with the table's head repeated; every page says which it is of how many.
 *
 * @param quote everything printed; text longer than its place is wrapped, a shop's or customer's name cut with "…"
 *   after some lines; up to three options are compared in a table before each is told line by line
 * @returns the file; the same data give the same bytes
 * @throws RangeError if an amount is not whole minor units or the currency is no ISO 4217 code,
 *   or if there is no option
 * @example const file = await quotePdf(quote); // %PDF-1.7 …
 */
export async function quotePdf(quote: QuoteDocument): Promise<Uint8Array<ArrayBuffer>> {
  const sheet = new Sheet({
    title: `Quote ${quote.quoteNumber}, ${quote.shop.name}`,
    author: quote.shop.name,
    locale: "en",
    madeAt: quote.madeAt,
  });
  quoteHead(sheet, quote);
  const [first, ...more] = quote.options;
  if (!first) throw new RangeError("a quote on paper needs at least one option");
  if (more.length > 0) optionsSection(sheet, quote);
  quote.options.forEach((option, index) => {
    const like = quote.options.slice(0, index).find((other) => isSameWork(other, option));
    partsSection(sheet, option, { ofSeveral: more.length > 0, likeName: like?.name ?? null });
    priceSection(sheet, quote, option, {
      ofSeveral: more.length > 0,
      tellsRange: !isCompared(quote),
    });
  });
  cautionsSection(sheet, quote.cautions);
  answerSection(sheet, quote);
  termsSection(sheet, quote.terms);
  return sheet.finish((page, pages) => foot(sheet, quote, page, pages));
}

/** Plain data in one order: equal texts are equal work. */
const isSameWork = (one: QuoteDocumentOption, other: QuoteDocumentOption): boolean =>
  JSON.stringify(one.parts) === JSON.stringify(other.parts);

function foot(sheet: Sheet, quote: QuoteDocument, page: number, pages: number): void {
  const { doc } = sheet;
  doc.moveTo(PAGE.left, FOOT_Y).lineTo(PAGE.right, FOOT_Y);
  doc.lineWidth(0.6).strokeColor(PALETTE.hairline).stroke();
  const version = quote.version > 1 ? `, version ${quote.version}` : "";
  const what = `Quote ${quote.quoteNumber}${version} · ${quote.shop.name}`;
  const [line = ""] = firstLines(what, 1, 380, sheet.measure(STYLES.small));
  sheet.print(line, PAGE.left, FOOT_Y + 5, STYLES.small);
  sheet.printRight(`Page ${page} of ${pages}`, PAGE.right, FOOT_Y + 5, STYLES.small, 100);
}
