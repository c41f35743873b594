import { PALETTE } from "./palette";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES } from "./sheet";
import type { QuoteDocument, ShopHead } from "./types";
import { firstLines, printable } from "./wrap";

const CONTACT_WIDTH = 190;
const COLUMN_GAP = 14;
/** where the dates stand after their labels */
const DATE_INDENT = 62;

/** Shop on top, then what this is, for whom, and its dates. */
export function quoteHead(sheet: Sheet, quote: QuoteDocument): void {
  shopHead(sheet, quote.shop);
  sheet.y += 16;
  title(sheet, quote);
  sheet.y += 12;
  facts(sheet, quote);
  if (printable(quote.message) !== "") {
    sheet.y += 14;
    sheet.paragraph(sheet.root, quote.message, STYLES.body);
  }
}

/** The shop at the top of a sheet: its sign, its name, and how to reach it. */
export function shopHead(sheet: Sheet, shop: ShopHead): void {
  const nameX = PAGE.left + 46;
  const nameWidth = CONTENT_WIDTH - 46 - CONTACT_WIDTH - COLUMN_GAP;
  const top = sheet.y;
  tankEmblem(sheet, PAGE.left, top + 1);
  const name = firstLines(shop.name, 3, nameWidth, sheet.measure(STYLES.shop));
  sheet.y = top + 6;
  sheet.tagged(sheet.root, "P", () => sheet.printLines(name, nameX, STYLES.shop));
  const nameEnd = sheet.y;
  const contact = [...printable(shop.address).split("\n"), shop.phone, shop.email]
    .filter((line) => line.trim() !== "")
    .flatMap((line) => sheet.lines(line, STYLES.small, CONTACT_WIDTH));
  sheet.y = top;
  if (contact.length > 0) {
    sheet.tagged(sheet.root, "P", () => {
      for (const line of contact) {
        sheet.printRight(line, PAGE.right, sheet.y, STYLES.small, CONTACT_WIDTH);
        sheet.y += lineHeight(STYLES.small);
      }
    });
  }
  sheet.y = Math.max(sheet.y, nameEnd, top + 34) + 6;
  sheet.rule(sheet.y, PALETTE.ironOxide, 1.4);
}

/** A tub from the side: wall, bath, an anode at each wall, a part between them on its hook. */
function tankEmblem(sheet: Sheet, x: number, y: number): void {
  const { doc } = sheet;
  sheet.decoration(() => {
    doc.lineJoin("round").lineCap("round");
    doc.polygon([x + 2.4, y + 10], [x + 33.6, y + 10], [x + 31.4, y + 28.4], [x + 4.6, y + 28.4]);
    doc.fill("#d5e3e8");
    doc
      .moveTo(x, y + 4)
      .lineTo(x + 4, y + 30)
      .lineTo(x + 32, y + 30)
      .lineTo(x + 36, y + 4);
    doc.lineWidth(1.8).strokeColor(PALETTE.magnetite).stroke();
    doc
      .moveTo(x + 7, y + 3)
      .lineTo(x + 8.8, y + 25)
      .moveTo(x + 29, y + 3)
      .lineTo(x + 27.2, y + 25);
    doc.lineWidth(1.6).strokeColor(PALETTE.zinc).stroke();
    doc
      .moveTo(x + 18, y)
      .lineTo(x + 18, y + 13)
      .lineWidth(1)
      .strokeColor(PALETTE.magnetite)
      .stroke();
    doc.roundedRect(x + 13.5, y + 13, 9, 11, 1.5).fill(PALETTE.ironOxide);
  });
}

function title(sheet: Sheet, quote: QuoteDocument): void {
  const words = `Quote ${quote.quoteNumber}`;
  sheet.tagged(sheet.root, "H1", () => sheet.printLines([words], PAGE.left, STYLES.title));
  if (quote.version > 1) {
    const note = `Version ${quote.version}. It takes the place of the versions before it.`;
    sheet.paragraph(sheet.root, note, STYLES.small);
  }
}

/** Customer on the left, dates on the right, on one panel. */
function facts(sheet: Sheet, quote: QuoteDocument): void {
  const width = CONTENT_WIDTH / 2 - COLUMN_GAP;
  const { name, address } = quote.customer;
  const nameLines = firstLines(name, 4, width, sheet.measure(STYLES.strong));
  const addressLines =
    printable(address) === "" ? [] : sheet.lines(address, STYLES.body, width).slice(0, 8);
  const dates: readonly (readonly [string, string])[] = [
    ["Job", String(quote.jobNumber)],
    ["Date", quote.date],
    ["Valid until", quote.validUntil],
    ...(quote.promisedFor === null ? [] : [["Ready by", quote.promisedFor] as const]),
  ];
  const line = lineHeight(STYLES.body);
  const left = lineHeight(STYLES.label) + (nameLines.length + addressLines.length) * line;
  const height = Math.max(left, dates.length * line) + 20;
  sheet.room(height);
  const top = sheet.y;
  sheet.panel(top, height);
  sheet.y = top + 10;
  sheet.tagged(sheet.root, "P", () => {
    sheet.printLines(["For"], PAGE.left + 12, STYLES.label);
    sheet.printLines(nameLines, PAGE.left + 12, STYLES.strong);
    sheet.printLines(addressLines, PAGE.left + 12, STYLES.body);
  });
  sheet.y = top + 10;
  const labelX = PAGE.left + CONTENT_WIDTH / 2 + COLUMN_GAP;
  for (const [label, value] of dates) {
    const [shown = ""] = firstLines(
      value,
      1,
      width - DATE_INDENT - 12,
      sheet.measure(STYLES.strong),
    );
    sheet.tagged(sheet.root, "P", () => {
      sheet.print(label, labelX, sheet.y + 1.2, STYLES.label);
      sheet.print(shown, labelX + DATE_INDENT, sheet.y, STYLES.strong);
    });
    sheet.y += line;
  }
  sheet.y = top + height;
}
