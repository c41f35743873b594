import { PALETTE } from "./palette";
import { amountWriter, taxName } from "./quote-words";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES, type TextStyle } from "./sheet";
import type { QuoteDocument, QuoteDocumentOption } from "./types";
import { firstLines } from "./wrap";

/** More do not stand side by side on the page; each is then told line by line only. */
const MOST_COLUMNS = 3;
const LABEL_WIDTH = 118;
const GAP = 10;
/** lines that one cell may have */
const MOST_LINES = 4;

type Row = {
  readonly label: string;
  /** one an option */
  readonly cells: readonly string[];
  readonly style: TextStyle;
};

/** Whether the options stand side by side in a table, with range and deposit of each. */
export const isCompared = ({ options }: Pick<QuoteDocument, "options">): boolean =>
  options.length > 1 && options.length <= MOST_COLUMNS;

/** The options side by side: what differs, and what each costs. */
export function optionsSection(sheet: Sheet, quote: QuoteDocument): void {
  const { options } = quote;
  sheet.heading(sheet.root, `Choose one of ${options.length} ways`, 90);
  if (!isCompared(quote)) {
    const amount = amountWriter(quote);
    for (const [index, { name, totalMinor }] of options.entries()) {
      sheet.paragraph(
        sheet.root,
        `${index + 1}. ${name}: ${amount(totalMinor)} with tax`,
        STYLES.body,
      );
    }
    return;
  }
  const table = sheet.group(sheet.root, "Table");
  nameRow(sheet, table, options);
  for (const row of comparison(quote)) printRow(sheet, table, row);
  table.end();
  sheet.y += 4;
  sheet.paragraph(
    sheet.root,
    "By the hours: what it could come to with the shortest and the longest hours that we expect. The total is the price offered, however long it takes.",
    STYLES.small,
  );
}

function comparison(quote: QuoteDocument): readonly Row[] {
  const { options, locale } = quote;
  const amount = amountWriter(quote);
  const row = (
    label: string,
    cell: (option: QuoteDocumentOption) => string,
    style: TextStyle = STYLES.body,
  ): Row => ({ label, cells: options.map(cell), style });
  const marks = [
    ...new Map(
      options.flatMap(({ parts }) => parts.map((part) => [part.mark, part.description] as const)),
    ),
  ];
  const taxes = [
    ...new Set(options.flatMap((option) => option.taxes.map((tax) => taxName(tax, locale)))),
  ];
  const rows = [
    ...marks.map(([mark, description]) =>
      row(
        `${mark}, ${description}`,
        ({ parts }) => parts.find((part) => part.mark === mark)?.hours ?? "not treated",
        STYLES.hours,
      ),
    ),
    row("Goes before other work", ({ rush }) => (rush ? "yes" : "no")),
    row("Net", ({ netMinor }) => amount(netMinor)),
    ...taxes.map((name) =>
      row(name, (option) => {
        const own = option.taxes.filter((tax) => taxName(tax, locale) === name);
        return amount(own.reduce((sum, { taxMinor }) => sum + taxMinor, 0));
      }),
    ),
    row("Total with tax", ({ totalMinor }) => amount(totalMinor), STYLES.strong),
    row("By the hours", ({ lowMinor, highMinor }) => `${amount(lowMinor)} to ${amount(highMinor)}`),
    row("Deposit before work", ({ depositMinor }) =>
      depositMinor > 0 ? amount(depositMinor) : "none",
    ),
  ];
  // A row in which nothing is said of any is left out.
  const isTold = ({ label, cells }: Row) =>
    !(label === "Goes before other work" && cells.every((cell) => cell === "no")) &&
    !(label === "Deposit before work" && cells.every((cell) => cell === "none"));
  return rows.filter(isTold);
}

const columnWidth = (count: number): number => (CONTENT_WIDTH - LABEL_WIDTH - count * GAP) / count;
const columnX = (index: number, count: number): number =>
  PAGE.left + LABEL_WIDTH + GAP + index * (columnWidth(count) + GAP);

function nameRow(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  options: readonly QuoteDocumentOption[],
): void {
  const width = columnWidth(options.length);
  const names = options.map(({ name }) => firstLines(name, 3, width, sheet.measure(STYLES.strong)));
  const height = Math.max(...names.map((lines) => lines.length)) * lineHeight(STYLES.strong) + 10;
  sheet.room(height + 60);
  const top = sheet.y;
  sheet.panel(top, height, PALETTE.ironOxide);
  const row = sheet.group(table, "TR");
  sheet.tableHead(row, "Column", () =>
    sheet.print("What differs", PAGE.left + 10, top + 6, STYLES.label),
  );
  names.forEach((lines, index) => {
    sheet.y = top + 5;
    sheet.tableHead(row, "Column", () =>
      sheet.printLines(lines, columnX(index, options.length), STYLES.strong),
    );
  });
  row.end();
  sheet.y = top + height + 4;
}

function printRow(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  { label, cells, style }: Row,
): void {
  const width = columnWidth(cells.length);
  const labels = firstLines(label, MOST_LINES, LABEL_WIDTH - 10, sheet.measure(STYLES.body));
  const columns = cells.map((cell) => firstLines(cell, MOST_LINES, width, sheet.measure(style)));
  const height = Math.max(
    labels.length * lineHeight(STYLES.body),
    ...columns.map((lines) => lines.length * lineHeight(style)),
  );
  sheet.room(height + 8);
  const top = sheet.y;
  const row = sheet.group(table, "TR");
  sheet.tableHead(row, "Row", () => sheet.printLines(labels, PAGE.left + 10, STYLES.body));
  columns.forEach((lines, index) => {
    sheet.y = top;
    sheet.tagged(row, "TD", () => sheet.printLines(lines, columnX(index, cells.length), style));
  });
  row.end();
  sheet.y = top + height + 3;
  sheet.rule(sheet.y);
  sheet.y += 4;
}
