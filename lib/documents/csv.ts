/** A cell: null is empty, a Date is written as ISO 8601 in UTC. */
export type CsvCell = string | number | boolean | Date | null;

/** Spreadsheets take a cell that begins like this for a formula, and run it. */
const FORMULA_START = /^[=+\-@\t\r]/;
const NEEDS_QUOTES = /[",\r\n]/;
/** Says UTF-8 to spreadsheets that would otherwise guess. */
const BYTE_ORDER_MARK = "\uFEFF";

/**
 * Rows as a CSV file: RFC 4180 (comma, CRLF, quotes doubled) in UTF-8 with a byte order mark. Text that a spreadsheet
 * would run as a formula is written after an apostrophe; numbers stay numbers, negative ones too.
 *
 * @param head column names, one or more
 * @param rows each as long as the head
 * @throws RangeError if a row is longer or shorter, or a number is not finite
 * @example csv(["item", "on hand"], [["washing soda", 19500]])
 */
export function csv(
  head: readonly string[],
  rows: readonly (readonly CsvCell[])[],
): Uint8Array<ArrayBuffer> {
  rows.forEach((row, index) => {
    if (row.length !== head.length) {
      throw new RangeError(`row ${index + 1} has ${row.length} cells, the head has ${head.length}`);
    }
  });
  const lines = [head, ...rows].map((row) => `${row.map(cellText).join(",")}\r\n`);
  return new TextEncoder().encode(BYTE_ORDER_MARK + lines.join(""));
}

function cellText(cell: CsvCell): string {
  if (cell === null) return "";
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  if (cell instanceof Date) return cell.toISOString();
  if (typeof cell === "number") {
    if (!Number.isFinite(cell)) throw new RangeError(`a number must be finite, got ${cell}`);
    return String(cell);
  }
  const safe = FORMULA_START.test(cell) ? `'${cell}` : cell;
  return NEEDS_QUOTES.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
