import type { BillDocument } from "./bill-types";
import { shopHead } from "./quote-head";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES } from "./sheet";
import { firstLines, printable } from "./wrap";

const COLUMN_GAP = 14;
/** where a fact stands after its label */
const FACT_INDENT = 76;

/** @example billName({ kind: "statement", number: 12 }) // "Statement 12" */
export function billName({ kind, number }: Pick<BillDocument, "kind" | "number">): string {
  return `${kind === "statement" ? "Statement" : "Credit note"} ${number}`;
}

/** Shop on top, then what this is, to whom, and what it refers to. */
export function billHead(sheet: Sheet, bill: BillDocument): void {
  shopHead(sheet, bill.shop);
  sheet.y += 16;
  sheet.tagged(sheet.root, "H1", () => sheet.printLines([billName(bill)], PAGE.left, STYLES.title));
  if (bill.of) {
    const of = `It takes back what is named here of statement ${bill.of.number} of ${bill.of.date}.`;
    sheet.paragraph(sheet.root, of, STYLES.small);
  }
  sheet.y += 12;
  facts(sheet, bill);
  if (printable(bill.reason) !== "") {
    sheet.y += 14;
    sheet.paragraph(sheet.root, `Why: ${bill.reason}`, STYLES.body);
  }
}

/** Customer on the left, numbers and dates on the right, on one panel. */
function facts(sheet: Sheet, bill: BillDocument): void {
  const width = CONTENT_WIDTH / 2 - COLUMN_GAP;
  const { name, address } = bill.customer;
  const nameLines = firstLines(name, 4, width, sheet.measure(STYLES.strong));
  const addressLines =
    printable(address) === "" ? [] : sheet.lines(address, STYLES.body, width).slice(0, 8);
  const rows = factRows(bill);
  const line = lineHeight(STYLES.body);
  const left = lineHeight(STYLES.label) + (nameLines.length + addressLines.length) * line;
  const height = Math.max(left, rows.length * line) + 20;
  sheet.room(height);
  const top = sheet.y;
  sheet.panel(top, height);
  sheet.y = top + 10;
  sheet.tagged(sheet.root, "P", () => {
    sheet.printLines(["To"], PAGE.left + 12, STYLES.label);
    sheet.printLines(nameLines, PAGE.left + 12, STYLES.strong);
    sheet.printLines(addressLines, PAGE.left + 12, STYLES.body);
  });
  sheet.y = top + 10;
  for (const [label, value] of rows) fact(sheet, label, value, width - FACT_INDENT - 12);
  sheet.y = top + height;
}

function factRows(bill: BillDocument): readonly (readonly [string, string])[] {
  return [
    ["Number", String(bill.number)],
    ["Date", bill.date],
    ["Job", String(bill.jobNumber)],
    ...(bill.of === null ? [] : [["Of statement", String(bill.of.number)] as const]),
    ...(bill.dueOn === null ? [] : [["To be paid by", bill.dueOn] as const]),
    ...(printable(bill.shopTaxNumber) === ""
      ? []
      : [["Our tax number", bill.shopTaxNumber] as const]),
  ];
}

function fact(sheet: Sheet, label: string, value: string, width: number): void {
  const x = PAGE.left + CONTENT_WIDTH / 2 + COLUMN_GAP;
  const [shown = ""] = firstLines(value, 1, width, sheet.measure(STYLES.strong));
  sheet.tagged(sheet.root, "P", () => {
    sheet.print(label, x, sheet.y + 1.2, STYLES.label);
    sheet.print(shown, x + FACT_INDENT, sheet.y, STYLES.strong);
  });
  sheet.y += lineHeight(STYLES.body);
}
