import { lineHeight, PAGE, type Sheet, STYLES } from "./sheet";
import { printable } from "./wrap";

/** What stands right of a line's words: its text and where it ends. */
type LineAmount = { readonly text: string; readonly right: number; readonly width: number };

const INSET = 8;

/** A line of a quote, a statement or a credit note: what it is for, small print under it, its amounts, and a rule. */
export function lineRow(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  line: { readonly label: string; readonly detail: string; readonly width: number },
  amounts: readonly LineAmount[],
): void {
  const label = sheet.lines(line.label, STYLES.body, line.width);
  const detail =
    printable(line.detail) === "" ? [] : sheet.lines(line.detail, STYLES.small, line.width);
  sheet.room(label.length * lineHeight(STYLES.body) + detail.length * lineHeight(STYLES.small) + 8);
  const row = sheet.group(table, "TR");
  const top = sheet.y;
  const { page } = sheet.doc;
  sheet.tagged(row, "TD", () => {
    sheet.printLines(label, PAGE.left + INSET, STYLES.body);
    sheet.printLines(detail, PAGE.left + INSET, STYLES.small);
  });
  // A row longer than a page ends on another one than it began: its amounts then stand at its last line.
  const y = page === sheet.doc.page ? top : sheet.y - lineHeight(STYLES.body);
  for (const { text, right, width } of amounts) {
    sheet.tagged(row, "TD", () => sheet.printRight(text, right, y, STYLES.body, width));
  }
  row.end();
  sheet.y += 3;
  sheet.rule(sheet.y);
  sheet.y += 4;
}
