import { formatMoney, money } from "@/lib/money";
import type { BillDocument, BillDocumentLine } from "./bill-types";
import { lineRow } from "./line-row";
import { PALETTE } from "./palette";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES, type TextStyle } from "./sheet";
import { firstLines, printable } from "./wrap";

const AMOUNT_WIDTH = 82;
const AMOUNT_GAP = 8;
const INSET = 8;
const HEAD_HEIGHT = 19;
const LABEL_WIDTH = CONTENT_WIDTH - 3 * (AMOUNT_WIDTH + AMOUNT_GAP) - 2 * INSET;
/** Net, tax and both, each ending here. */
const COLUMNS = [2, 1, 0].map((from) => PAGE.right - INSET - from * (AMOUNT_WIDTH + AMOUNT_GAP));

type Amount = (minor: number) => string;

/** The lines with their tax, then the tax by rate, the total, what was paid and what is left. */
export function billTable(sheet: Sheet, bill: BillDocument): void {
  const amount: Amount = (minor) =>
    printable(formatMoney(money(minor, bill.currency), bill.locale));
  sheet.heading(sheet.root, bill.kind === "statement" ? "What was done" : "What is credited", 70);
  const table = sheet.group(sheet.root, "Table");
  const heads = [`Net, ${bill.currency}`, "Tax", "With tax"];
  const top = sheet.y;
  const headRow = sheet.group(table, "TR");
  sheet.panel(top, HEAD_HEIGHT - 3);
  sheet.tagged(headRow, "TH", () => sheet.print("For", PAGE.left + INSET, top + 2.6, STYLES.label));
  heads.forEach((head, index) =>
    sheet.tagged(headRow, "TH", () => headAt(sheet, head, index, top)),
  );
  headRow.end();
  sheet.y = top + HEAD_HEIGHT + 2;
  const again = () => {
    sheet.doc.rect(PAGE.left, PAGE.top, CONTENT_WIDTH, HEAD_HEIGHT - 3).fill(PALETTE.soda);
    sheet.print("For (continued)", PAGE.left + INSET, PAGE.top + 2.6, STYLES.label);
    heads.forEach((head, index) => headAt(sheet, head, index, PAGE.top));
  };
  sheet.repeating(HEAD_HEIGHT + 2, again, () => {
    for (const line of bill.lines) billLine(sheet, table, line, amount);
    sums(sheet, table, sumRows(bill, amount));
  });
  table.end();
}

function headAt(sheet: Sheet, head: string, column: number, top: number): void {
  const right = COLUMNS[column] ?? PAGE.right;
  sheet.printRight(head, right, top + 2.6, STYLES.label, AMOUNT_WIDTH);
}
function billLine(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  { label, detail, netMinor, taxMinor }: BillDocumentLine,
  amount: Amount,
): void {
  const amounts = [netMinor, taxMinor, netMinor + taxMinor].map((minor, column) => ({
    text: amount(minor),
    right: COLUMNS[column] ?? PAGE.right,
    width: AMOUNT_WIDTH,
  }));
  lineRow(sheet, table, { label, detail, width: LABEL_WIDTH }, amounts);
}

type SumRow = { readonly label: string; readonly text: string; readonly style: TextStyle };

function sumRows(bill: BillDocument, amount: Amount): readonly SumRow[] {
  const percent = new Intl.NumberFormat(bill.locale, { maximumFractionDigits: 6 });
  const plain = (label: string, text: string): SumRow => ({ label, text, style: STYLES.body });
  const large = (label: string, minor: number): SumRow => ({
    label,
    text: amount(minor),
    style: STYLES.total,
  });
  const rows = [
    plain("Net", amount(bill.netMinor)),
    ...bill.taxes.map((tax) =>
      plain(
        `${tax.name}, ${percent.format(tax.percent)} % of ${amount(tax.baseMinor)}`,
        amount(tax.taxMinor),
      ),
    ),
  ];
  if (bill.kind === "credit note") return [...rows, large("Credited", bill.totalMinor)];
  const due = bill.totalMinor - bill.paidMinor;
  return [
    ...rows,
    large("Total", bill.totalMinor),
    ...bill.paid.map(({ words, amountMinor }) => plain(words, amount(-amountMinor))),
    due < 0 ? large("Due back to you", -due) : large("Balance due", due),
  ];
}

function sums(sheet: Sheet, table: PDFKit.PDFStructureElement, rows: readonly SumRow[]): void {
  // Net, tax and total stay together; a long list of payments may go on over pages.
  sheet.room(Math.min(rows.length, 8) * (lineHeight(STYLES.body) + 5) + 24);
  sheet.y += 2;
  const x = PAGE.left + CONTENT_WIDTH * 0.4;
  const width = PAGE.right - INSET - x - INSET - AMOUNT_WIDTH - 30 - AMOUNT_GAP;
  for (const { label, text, style } of rows) {
    const isTotal = style === STYLES.total;
    sheet.room(lineHeight(style) + (isTotal ? 10 : 2));
    if (isTotal) {
      sheet.rule(sheet.y + 1, PALETTE.ironOxide, 1.4, x);
      sheet.y += 6;
    }
    const row = sheet.group(table, "TR");
    const [shown = ""] = firstLines(label, 1, width, sheet.measure(style));
    sheet.tagged(row, "TD", () => sheet.print(shown, x + INSET, sheet.y, style));
    sheet.tagged(row, "TD", () =>
      sheet.printRight(text, PAGE.right - INSET, sheet.y, style, AMOUNT_WIDTH + 30),
    );
    row.end();
    sheet.y += lineHeight(style) + 2;
  }
}
