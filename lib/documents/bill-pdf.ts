import { billTable } from "./bill-body";
import { billHead, billName } from "./bill-head";
import type { BillDocument } from "./bill-types";
import { PALETTE } from "./palette";
import { PAGE, Sheet, STYLES } from "./sheet";
import { firstLines, printable } from "./wrap";

const FOOT_Y = 750;

/**
 * A final statement or a credit note on paper, in the manner of the quote: A4, within what US Letter shows too, tagged
 * for screen readers, fonts embedded. Long lists go on over pages with the table's head repeated.
 *
 * @param bill everything printed; it calculates nothing but what is left to pay
 * @returns the file; the same data give the same bytes
 * @throws RangeError if an amount is not whole minor units or the currency is no ISO 4217 code
 * @example const file = await billPdf(statement); // %PDF-1.7 …
 */
export async function billPdf(bill: BillDocument): Promise<Uint8Array<ArrayBuffer>> {
  const sheet = new Sheet({
    title: `${billName(bill)}, ${bill.shop.name}`,
    author: bill.shop.name,
    locale: "en",
    madeAt: bill.madeAt,
  });
  billHead(sheet, bill);
  billTable(sheet, bill);
  if (printable(bill.terms) !== "") {
    sheet.heading(sheet.root, "How to pay");
    for (const paragraph of printable(bill.terms).split(/\n{2,}/)) {
      sheet.paragraph(sheet.root, paragraph, STYLES.body);
      sheet.y += 4;
    }
  }
  return sheet.finish((page, pages) => foot(sheet, bill, page, pages));
}

function foot(sheet: Sheet, bill: BillDocument, page: number, pages: number): void {
  const { doc } = sheet;
  doc.moveTo(PAGE.left, FOOT_Y).lineTo(PAGE.right, FOOT_Y);
  doc.lineWidth(0.6).strokeColor(PALETTE.hairline).stroke();
  const what = `${billName(bill)} · ${bill.shop.name}`;
  const [line = ""] = firstLines(what, 1, 380, sheet.measure(STYLES.small));
  sheet.print(line, PAGE.left, FOOT_Y + 5, STYLES.small);
  sheet.printRight(`Page ${page} of ${pages}`, PAGE.right, FOOT_Y + 5, STYLES.small, 100);
}
