import { lineRow } from "./line-row";
import { PALETTE } from "./palette";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES, type TextStyle } from "./sheet";
import { amountWriter, rangeWords, taxName } from "./quote-words";
import type {
  QuoteDocument,
  QuoteDocumentLine,
  QuoteDocumentOption,
  QuoteDocumentPart,
} from "./types";
import { firstLines, printable } from "./wrap";

const PART_INDENT = 30;
const HOURS_WIDTH = 130;
const AMOUNT_WIDTH = 112;
const LABEL_WIDTH = CONTENT_WIDTH - AMOUNT_WIDTH - 16;
const HEAD_HEIGHT = 19;

type PartsWays = {
  readonly ofSeveral: boolean;
  /** the way before it in which the very same is done; null where this one differs from all */
  readonly likeName: string | null;
};

/** What will be done, part by part; of several options, under the name of this one. */
export function partsSection(
  sheet: Sheet,
  { parts, name }: QuoteDocumentOption,
  { ofSeveral, likeName }: PartsWays,
): void {
  if (parts.length === 0) return;
  sheet.heading(
    sheet.root,
    ofSeveral ? named(sheet, name, "what we will do") : "What we will do",
    56,
  );
  sheet.y += 3;
  if (likeName !== null) {
    sheet.paragraph(sheet.root, `The same as under “${likeName}”.`, STYLES.body);
    return;
  }
  parts.forEach((part, index) => {
    if (index > 0) sheet.y += 9;
    onePart(sheet, part);
  });
}

/** A heading of one of several ways, on one line however long its name is. */
function named(sheet: Sheet, name: string, what: string): string {
  const measure = sheet.measure(STYLES.heading);
  const [shown = ""] = firstLines(name, 1, CONTENT_WIDTH - measure(`: ${what}`), measure);
  return `${shown}: ${what}`;
}

function onePart(sheet: Sheet, part: QuoteDocumentPart): void {
  const x = PAGE.left + PART_INDENT;
  const titleWidth = CONTENT_WIDTH - PART_INDENT - (part.hours === null ? 0 : HOURS_WIDTH + 10);
  const name = part.quantity > 1 ? `${part.quantity} × ${part.description}` : part.description;
  const titleLines = sheet.lines(name, STYLES.strong, titleWidth);
  const work = printable(part.work);
  sheet.room((Math.min(titleLines.length, 3) + 2) * lineHeight(STYLES.strong));
  const section = sheet.group(sheet.root, "Sect");
  markBadge(sheet, part.mark);
  sheet.tagged(section, "H3", () => {
    sheet.print(
      part.mark,
      badgeTextX(sheet, part.mark),
      sheet.y + 1.4,
      badgeStyle(sheet, part.mark),
    );
    const top = sheet.y;
    if (part.hours !== null) {
      sheet.printRight(part.hours, PAGE.right, top, STYLES.hours, HOURS_WIDTH);
    }
    sheet.printLines(titleLines, x, STYLES.strong);
  });
  if (work !== "") sheet.paragraph(section, work, STYLES.body, x);
  for (const caution of part.cautions) cautionLine(sheet, section, caution, x);
  section.end();
}

const BADGE = 18;

function badgeStyle(sheet: Sheet, mark: string): TextStyle {
  const style: TextStyle = { ...STYLES.strong, colour: PALETTE.white };
  const width = sheet.measure(style)(mark);
  return width > BADGE - 4 ? { ...style, size: (style.size * (BADGE - 4)) / width } : style;
}

function badgeTextX(sheet: Sheet, mark: string): number {
  return PAGE.left + (BADGE - sheet.measure(badgeStyle(sheet, mark))(mark)) / 2;
}

function markBadge(sheet: Sheet, mark: string): void {
  if (mark === "") return;
  const top = sheet.y - 2;
  sheet.decoration(() =>
    sheet.doc.roundedRect(PAGE.left, top, BADGE, BADGE, 3).fill(PALETTE.magnetite),
  );
}

/** A caution: a word as well as a colour and a sign. */
function cautionLine(
  sheet: Sheet,
  parent: PDFKit.PDFStructureElement,
  text: string,
  x: number,
): void {
  sheet.y += 2;
  sheet.room(2 * lineHeight(STYLES.caution));
  const { doc, y } = sheet;
  sheet.decoration(() => {
    doc.polygon([x + 4.5, y + 1.6], [x + 9, y + 9.6], [x, y + 9.6]);
    doc.lineWidth(0.9).lineJoin("round").strokeColor(PALETTE.brass).stroke();
    doc
      .moveTo(x + 4.5, y + 4.6)
      .lineTo(x + 4.5, y + 6.8)
      .lineWidth(0.9)
      .stroke();
    doc.circle(x + 4.5, y + 8.3, 0.5).fill(PALETTE.brass);
  });
  sheet.paragraph(parent, `Note: ${text}`, STYLES.caution, x + 15);
}

/** The price, line by line, its totals, what the hours could make of it, and the deposit. */
export function priceSection(
  sheet: Sheet,
  quote: Pick<QuoteDocument, "currency" | "locale">,
  option: QuoteDocumentOption,
  { ofSeveral, tellsRange }: { readonly ofSeveral: boolean; readonly tellsRange: boolean },
): void {
  const amount = amountWriter(quote);
  sheet.heading(sheet.root, ofSeveral ? named(sheet, option.name, "price") : "Price", 70);
  const table = sheet.group(sheet.root, "Table");
  const headRow = sheet.group(table, "TR");
  const top = sheet.y;
  const net = `${option.pricesIncludeTax ? "With tax" : "Net"}, ${quote.currency}`;
  sheet.panel(top, HEAD_HEIGHT - 3);
  sheet.tableHead(headRow, "Column", () =>
    sheet.print("For", PAGE.left + 8, top + 2.6, STYLES.label),
  );
  sheet.tableHead(headRow, "Column", () =>
    sheet.printRight(net, PAGE.right - 8, top + 2.6, STYLES.label, AMOUNT_WIDTH),
  );
  headRow.end();
  sheet.y = top + HEAD_HEIGHT + 2;
  const again = () => {
    sheet.doc.rect(PAGE.left, PAGE.top, CONTENT_WIDTH, HEAD_HEIGHT - 3).fill(PALETTE.soda);
    sheet.print("For (continued)", PAGE.left + 8, PAGE.top + 2.6, STYLES.label);
    sheet.printRight(net, PAGE.right - 8, PAGE.top + 2.6, STYLES.label, AMOUNT_WIDTH);
  };
  sheet.repeating(HEAD_HEIGHT + 2, again, () => {
    for (const line of option.lines) priceRow(sheet, table, line, amount(line.amountMinor));
    totals(sheet, table, totalRows(option, quote.locale, amount));
  });
  table.end();
  if (tellsRange) {
    sheet.y += 6;
    for (const words of rangeWords(option, amount)) sheet.paragraph(sheet.root, words, STYLES.body);
  }
}

function priceRow(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  { label, detail }: QuoteDocumentLine,
  amount: string,
): void {
  const amounts = [{ text: amount, right: PAGE.right - 8, width: AMOUNT_WIDTH }];
  lineRow(sheet, table, { label, detail, width: LABEL_WIDTH }, amounts);
}

function totalRows(
  { netMinor, taxes, totalMinor }: QuoteDocumentOption,
  locale: string,
  amount: (minor: number) => string,
): readonly TotalRow[] {
  return [
    ["Net", amount(netMinor), STYLES.body],
    ...taxes.map((tax): TotalRow => [taxName(tax, locale), amount(tax.taxMinor), STYLES.body]),
    ["Total", amount(totalMinor), STYLES.total],
  ];
}

type TotalRow = readonly [label: string, amount: string, style: TextStyle];

function totals(sheet: Sheet, table: PDFKit.PDFStructureElement, rows: readonly TotalRow[]): void {
  // The totals stay together.
  sheet.room(rows.reduce((height, [, , style]) => height + lineHeight(style) + 5, 8));
  sheet.y += 2;
  const x = PAGE.left + CONTENT_WIDTH * 0.5;
  for (const [label, text, style] of rows) {
    if (style === STYLES.total) {
      sheet.rule(sheet.y + 1, PALETTE.ironOxide, 1.4, x);
      sheet.y += 6;
    }
    const row = sheet.group(table, "TR");
    const labelStyle = style === STYLES.total ? style : STYLES.body;
    const shown = sheet.lines(label, labelStyle, CONTENT_WIDTH * 0.5 - 16 - AMOUNT_WIDTH)[0] ?? "";
    sheet.tableHead(row, "Row", () => sheet.print(shown, x + 8, sheet.y, labelStyle));
    sheet.tagged(row, "TD", () =>
      sheet.printRight(text, PAGE.right - 8, sheet.y, style, AMOUNT_WIDTH + 30),
    );
    row.end();
    sheet.y += lineHeight(style) + 2;
  }
}

/** Cautions for the whole job. */
export function cautionsSection(sheet: Sheet, cautions: readonly string[]): void {
  if (cautions.length === 0) return;
  sheet.heading(sheet.root, "Please note");
  for (const caution of cautions) cautionLine(sheet, sheet.root, caution, PAGE.left);
}
