import { PALETTE } from "./palette";
import { shopHead } from "./quote-head";
import { CONTENT_WIDTH, lineHeight, PAGE, Sheet, STYLES } from "./sheet";
import type { ShopHead } from "./types";
import { firstLines, printable } from "./wrap";

/** One thing to buy. Amounts come as text, in the shop's units. */
export type PurchaseListLine = {
  readonly item: string;
  /** "3 × 25 kg"; empty where it is not sold in packs */
  readonly packs: string;
  /** "75 kg" */
  readonly amount: string;
};

/** Everything on a printed list for a supplier. Dates come as text in the shop's customs. */
export type PurchaseListDocument = {
  readonly shop: ShopHead;
  readonly supplier: {
    /** empty where the list is for nobody in particular */
    readonly name: string;
    /** e-mail, telephone, customer number: a line each */
    readonly contact: readonly string[];
  };
  readonly number: number;
  /** "25 November 2026" */
  readonly date: string;
  /** when it is to be there; null where nobody said */
  readonly expected: string | null;
  /** not ordered yet: it says so, so that no draft is taken for an order */
  readonly draft: boolean;
  readonly lines: readonly PurchaseListLine[];
  readonly note: string;
  readonly madeAt: Date;
};

const FOOT_Y = 750;
const HEAD_HEIGHT = 19;
const BOX = 9;
const ITEM_X = PAGE.left + BOX + 12;
const AMOUNT_WIDTH = 110;
const PACKS_WIDTH = 120;
const PACKS_RIGHT = PAGE.right - 8 - AMOUNT_WIDTH - 12;
const ITEM_WIDTH = PACKS_RIGHT - PACKS_WIDTH - 12 - ITEM_X;

/**
 * A list of what to buy from one supplier, without prices: a box to tick for each thing as it comes. A4, everything
 * within what US Letter shows too, tagged for screen readers, fonts embedded; long lists go on over pages.
 *
 * @returns the file; the same data give the same bytes
 * @example const file = await purchaseListPdf(list); // %PDF-1.7 …
 */
export async function purchaseListPdf(
  list: PurchaseListDocument,
): Promise<Uint8Array<ArrayBuffer>> {
  const sheet = new Sheet({
    title: `${titleOf(list)}, ${list.shop.name}`,
    author: list.shop.name,
    locale: "en",
    madeAt: list.madeAt,
  });
  shopHead(sheet, list.shop);
  sheet.y += 16;
  sheet.tagged(sheet.root, "H1", () => sheet.printLines([titleOf(list)], PAGE.left, STYLES.title));
  sheet.y += 10;
  facts(sheet, list);
  lines(sheet, list.lines);
  if (printable(list.note) !== "") {
    sheet.heading(sheet.root, "Note");
    sheet.paragraph(sheet.root, list.note, STYLES.body);
  }
  return sheet.finish((page, pages) => foot(sheet, list, page, pages));
}

const titleOf = ({ number, draft }: PurchaseListDocument): string =>
  draft ? `Draft of order ${number}` : `Order ${number}`;

/** Whom it goes to on the left, dates on the right. */
function facts(sheet: Sheet, list: PurchaseListDocument): void {
  const width = CONTENT_WIDTH / 2 - 20;
  const name = list.supplier.name === "" ? "Supplier not named" : list.supplier.name;
  const nameLines = firstLines(name, 3, width, sheet.measure(STYLES.strong));
  const contact = list.supplier.contact
    .filter((line) => printable(line).trim() !== "")
    .flatMap((line) => firstLines(line, 3, width, sheet.measure(STYLES.body)));
  const dates: readonly (readonly [string, string])[] = [
    [list.draft ? "Written" : "Ordered", list.date],
    ...(list.expected === null ? [] : [["Wanted by", list.expected] as const]),
  ];
  const line = lineHeight(STYLES.body);
  const left = lineHeight(STYLES.label) + (nameLines.length + contact.length) * line;
  const height = Math.max(left, dates.length * line) + 20;
  const top = sheet.y;
  sheet.panel(top, height);
  sheet.y = top + 10;
  sheet.tagged(sheet.root, "P", () => {
    sheet.printLines(["To"], PAGE.left + 12, STYLES.label);
    sheet.printLines(nameLines, PAGE.left + 12, STYLES.strong);
    sheet.printLines(contact, PAGE.left + 12, STYLES.body);
  });
  sheet.y = top + 10;
  const labelX = PAGE.left + CONTENT_WIDTH / 2 + 14;
  for (const [label, value] of dates) {
    const [shown = ""] = firstLines(value, 1, width - 70, sheet.measure(STYLES.strong));
    sheet.tagged(sheet.root, "P", () => {
      sheet.print(label, labelX, sheet.y + 1.2, STYLES.label);
      sheet.print(shown, labelX + 62, sheet.y, STYLES.strong);
    });
    sheet.y += line;
  }
  sheet.y = top + height;
}

/** The table's head, as it is drawn first and again on each page. */
function headCells(sheet: Sheet, y: number, item: string): readonly (() => void)[] {
  return [
    () => {
      sheet.print(item, ITEM_X, y + 2.6, STYLES.label);
    },
    () => {
      sheet.printRight("Packs", PACKS_RIGHT, y + 2.6, STYLES.label, PACKS_WIDTH);
    },
    () => {
      sheet.printRight("Amount", PAGE.right - 8, y + 2.6, STYLES.label, AMOUNT_WIDTH);
    },
  ];
}

function lines(sheet: Sheet, list: readonly PurchaseListLine[]): void {
  sheet.heading(sheet.root, "What to send", 60);
  const table = sheet.group(sheet.root, "Table");
  const head = sheet.group(table, "TR");
  sheet.panel(sheet.y, HEAD_HEIGHT - 3);
  for (const cell of headCells(sheet, sheet.y, "Item")) sheet.tagged(head, "TH", cell);
  head.end();
  sheet.y += HEAD_HEIGHT + 2;
  const again = () => {
    sheet.doc.rect(PAGE.left, PAGE.top, CONTENT_WIDTH, HEAD_HEIGHT - 3).fill(PALETTE.soda);
    for (const cell of headCells(sheet, PAGE.top, "Item (continued)")) cell();
  };
  sheet.repeating(HEAD_HEIGHT + 2, again, () => {
    for (const line of list) oneLine(sheet, table, line);
  });
  table.end();
}

function oneLine(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  { item, packs, amount }: PurchaseListLine,
): void {
  const name = firstLines(item, 4, ITEM_WIDTH, sheet.measure(STYLES.body));
  sheet.room(name.length * lineHeight(STYLES.body) + 8);
  const row = sheet.group(table, "TR");
  const top = sheet.y;
  sheet.decoration(() =>
    sheet.doc
      .rect(PAGE.left + 4, top + 1.6, BOX, BOX)
      .lineWidth(0.8)
      .strokeColor(PALETTE.zinc)
      .stroke(),
  );
  sheet.tagged(row, "TD", () => sheet.printLines(name, ITEM_X, STYLES.body));
  sheet.tagged(row, "TD", () =>
    sheet.printRight(packs, PACKS_RIGHT, top, STYLES.body, PACKS_WIDTH),
  );
  sheet.tagged(row, "TD", () =>
    sheet.printRight(amount, PAGE.right - 8, top, STYLES.strong, AMOUNT_WIDTH),
  );
  row.end();
  sheet.y += 3;
  sheet.rule(sheet.y);
  sheet.y += 4;
}

function foot(sheet: Sheet, list: PurchaseListDocument, page: number, pages: number): void {
  const { doc } = sheet;
  doc.moveTo(PAGE.left, FOOT_Y).lineTo(PAGE.right, FOOT_Y);
  doc.lineWidth(0.6).strokeColor(PALETTE.hairline).stroke();
  const what = `${titleOf(list)} · ${list.shop.name}`;
  const [line = ""] = firstLines(what, 1, 380, sheet.measure(STYLES.small));
  sheet.print(line, PAGE.left, FOOT_Y + 5, STYLES.small);
  sheet.printRight(`Page ${page} of ${pages}`, PAGE.right, FOOT_Y + 5, STYLES.small, 100);
}
