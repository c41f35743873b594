import { PALETTE } from "./palette";
import type {
  FieldPicture,
  SheetDrawing,
  SheetFact,
  SheetField,
  SheetInk,
  SheetTable,
} from "./plan-sheet-types";
import { CONTENT_WIDTH, lineHeight, PAGE, type Sheet, STYLES } from "./sheet";

/** Soon clean to late: each clearly darker than the one before, so that a grey print tells them apart. */
export const HOURS_INKS = ["#faf0d2", "#dcb766", "#b07a2e", "#7a3f18", "#35190d"] as const;
/** Neighbouring bands differ in lightness, and all grow darker on their way to the anode. */
const BATH_INKS = [
  "#f6f9fa",
  "#e3ecef",
  "#edf3f5",
  "#d6e3e8",
  "#e0eaee",
  "#c6d8df",
  "#d1dfe5",
  "#b5ccd5",
] as const;
const METAL_INK = "#1c2126";
const ANODE_INK = "#7b858d";
const DRY_INK = "#c9c6bb";

const GAP = 16;
const DRAWING_WIDTH = (CONTENT_WIDTH - GAP) / 2;
const DRAWING_HEIGHT = 150;
const SWATCH = 9;
const FIRST_COLUMN_SHARE = 0.46;

/** What the field says: in a drawing, in figures, and in tables. */
export function fieldSection(
  sheet: Sheet,
  field: SheetField,
  factGrid: (sheet: Sheet, facts: readonly SheetFact[]) => void,
): void {
  sheet.heading(sheet.root, "Where the current goes", field.picture ? 220 : 60);
  if (field.notice) {
    sheet.paragraph(sheet.root, field.notice, STYLES.caution);
    sheet.y += 3;
  }
  if (field.picture) pictures(sheet, field.picture);
  factGrid(sheet, field.facts);
  for (const table of field.tables) oneTable(sheet, table);
}

function pictures(sheet: Sheet, picture: FieldPicture): void {
  sheet.room(DRAWING_HEIGHT + 60);
  const top = sheet.y;
  const right = PAGE.left + DRAWING_WIDTH + GAP;
  const clean = picture.legend.join(", then ");
  drawing(
    sheet,
    picture.section,
    PAGE.left,
    top,
    "Upright cut through the middle of the part, along the tank: the part dark, the anode grey, the bath in bands of equal volts.",
  );
  drawing(
    sheet,
    picture.space,
    right,
    top,
    `The part seen from the front and above, shaded by when each place is clean: ${clean}.`,
  );
  sheet.y = top + DRAWING_HEIGHT + 4;
  const captions = [
    "Cut upright through the middle: part dark, anode grey. Where the bands of the bath crowd, the current is strong.",
    "From the front and above, as it lies in the tank: the darker, the later it is clean.",
  ].map((words) => sheet.lines(words, STYLES.small, DRAWING_WIDTH));
  const captionTop = sheet.y;
  captions.forEach((lines, index) => {
    sheet.y = captionTop;
    sheet.tagged(sheet.root, "Caption", () =>
      sheet.printLines(lines, index === 0 ? PAGE.left : right, STYLES.small),
    );
  });
  const most = Math.max(...captions.map(({ length }) => length));
  sheet.y = captionTop + most * lineHeight(STYLES.small) + 4;
  legend(sheet, picture);
}

/** As large as its place allows, its own proportions kept. */
function drawing(
  sheet: Sheet,
  { width, height, shapes }: SheetDrawing,
  left: number,
  top: number,
  alt: string,
): void {
  const { doc } = sheet;
  const scale = Math.min(DRAWING_WIDTH / width, DRAWING_HEIGHT / height);
  const x = left + (DRAWING_WIDTH - scale * width) / 2;
  const y = top + (DRAWING_HEIGHT + scale * height) / 2;
  sheet.tagged(
    sheet.root,
    "Figure",
    () => {
      doc.save().lineWidth(0.3).lineJoin("round");
      for (const { points, ink } of shapes) {
        for (let at = 0; at + 1 < points.length; at += 2) {
          const [px, py] = [x + scale * (points[at] ?? 0), y - scale * (points[at + 1] ?? 0)];
          if (at === 0) doc.moveTo(px, py);
          else doc.lineTo(px, py);
        }
        // The stroke hides the hairline that two neighbours leave between them.
        doc.closePath().fillAndStroke(inkOf(ink), inkOf(ink));
      }
      doc.restore();
    },
    alt,
  );
}

function inkOf({ of, step }: SheetInk): string {
  switch (of) {
    case "HOURS":
      return HOURS_INKS[step] ?? METAL_INK;
    case "BATH":
      return BATH_INKS[step] ?? DRY_INK;
    case "METAL":
      return METAL_INK;
    case "ANODE":
      return ANODE_INK;
    case "DRY":
      return DRY_INK;
  }
}

/** Shades with their hours, side by side, on as many lines as they need. */
function legend(sheet: Sheet, { legend: words, dry }: FieldPicture): void {
  const { doc } = sheet;
  const entries = [
    ...words.map((text, step) => ({ text, ink: inkOf({ of: "HOURS", step }) })),
    ...(dry ? [{ text: "out of the bath", ink: DRY_INK }] : []),
  ];
  let x: number = PAGE.left;
  for (const { text, ink } of entries) {
    const width = SWATCH + 5 + sheet.measure(STYLES.small)(text);
    if (x > PAGE.left && x + width > PAGE.right) {
      x = PAGE.left;
      sheet.y += lineHeight(STYLES.small) + 3;
    }
    const [left, y] = [x, sheet.y];
    sheet.decoration(() => {
      doc.rect(left, y + 1, SWATCH, SWATCH).lineWidth(0.5);
      doc.fillAndStroke(ink, PALETTE.magnetite);
    });
    sheet.tagged(sheet.root, "P", () => sheet.print(text, left + SWATCH + 4, y, STYLES.small));
    x += width + 12;
  }
  sheet.y += lineHeight(STYLES.small) + 8;
}

/** Columns of words, the first one the widest. */
function oneTable(sheet: Sheet, { title, columns, rows, note }: SheetTable): void {
  sheet.heading(sheet.root, title, 44);
  if (rows.length > 0) {
    const table = sheet.group(sheet.root, "Table");
    row(sheet, table, columns, true);
    for (const cells of rows) row(sheet, table, cells, false);
    table.end();
  }
  if (note) sheet.paragraph(sheet.root, note, rows.length > 0 ? STYLES.small : STYLES.body);
}

function row(
  sheet: Sheet,
  table: PDFKit.PDFStructureElement,
  cells: readonly string[],
  isHead: boolean,
): void {
  const style = isHead ? STYLES.label : STYLES.body;
  const first = cells.length > 1 ? CONTENT_WIDTH * FIRST_COLUMN_SHARE : CONTENT_WIDTH;
  const rest = (CONTENT_WIDTH - first) / Math.max(1, cells.length - 1);
  const lines = cells.map((text, column) =>
    sheet.lines(text, style, (column === 0 ? first : rest) - 8),
  );
  const height = Math.max(...lines.map(({ length }) => length)) * lineHeight(style);
  sheet.room(height + 4);
  const top = sheet.y;
  const element = sheet.group(table, "TR");
  lines.forEach((cell, column) => {
    const x = column === 0 ? PAGE.left : PAGE.left + first + (column - 1) * rest;
    sheet.tagged(element, isHead ? "TH" : "TD", () => {
      cell.forEach((line, index) => sheet.print(line, x, top + index * lineHeight(style), style));
    });
  });
  element.end();
  sheet.y = top + height + 2;
  sheet.rule(sheet.y);
  sheet.y += 2;
}
