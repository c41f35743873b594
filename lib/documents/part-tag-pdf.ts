import { PALETTE } from "./palette";
import { CONTENT_WIDTH, lineHeight, PAGE, Sheet, STYLES, type TextStyle } from "./sheet";
import type { PartTag, PartTags } from "./types";
import { firstLines, wrap } from "./wrap";

const COLUMNS = 2;
const ROWS = 4;
const TAG_WIDTH = CONTENT_WIDTH / COLUMNS;
const TAG_HEIGHT = (PAGE.bottom - PAGE.top) / ROWS;
const INSET = 11;
const HOLE_RADIUS = 5;

const MARK: TextStyle = { face: "bold", size: 34, colour: PALETTE.magnetite };
const NAME: TextStyle = { face: "bold", size: 10.5, colour: PALETTE.magnetite };
const CONDITION: TextStyle = { face: "regular", size: 7.6, colour: PALETTE.magnetite };

/**
 * Tags to cut out and tie on, eight a page: job and part large enough to read from a step away, then whose it is and
 * on what conditions it may go in.
 *
 * @param sheetOfTags one tag or more
 * @returns the file; the same data give the same bytes
 * @throws RangeError if there is no tag
 * @example await partTagPdf({ shopName: "Rust & Sons", tags: [tag], madeAt: now })
 */
export async function partTagPdf(sheetOfTags: PartTags): Promise<Uint8Array<ArrayBuffer>> {
  const { tags, shopName, madeAt } = sheetOfTags;
  if (tags.length === 0) throw new RangeError("a sheet of tags needs at least one tag");
  const numbers = [...new Set(tags.map(({ jobNumber }) => jobNumber))];
  const sheet = new Sheet({
    title: `Tags, job ${numbers.join(", ")}`,
    author: shopName,
    locale: "en",
    madeAt,
  });
  tags.forEach((tag, index) => {
    const place = index % (COLUMNS * ROWS);
    if (index > 0 && place === 0) sheet.newPage();
    const x = PAGE.left + (place % COLUMNS) * TAG_WIDTH;
    const y = PAGE.top + Math.floor(place / COLUMNS) * TAG_HEIGHT;
    cuttingLines(sheet, x, y, place);
    drawTag(sheet, tag, shopName, x, y);
  });
  return sheet.finish();
}

/** Where to cut: each line once, so that the dashes of neighbours do not fill each other's gaps. */
function cuttingLines(sheet: Sheet, x: number, y: number, place: number): void {
  const { doc } = sheet;
  const right = x + TAG_WIDTH;
  const bottom = y + TAG_HEIGHT;
  sheet.decoration(() => {
    doc.lineWidth(0.5).dash(3, { space: 3 }).strokeColor(PALETTE.zinc);
    doc.moveTo(right, y).lineTo(right, bottom).moveTo(x, bottom).lineTo(right, bottom);
    if (place < COLUMNS) doc.moveTo(x, y).lineTo(right, y);
    if (place % COLUMNS === 0) doc.moveTo(x, y).lineTo(x, bottom);
    doc.stroke().undash();
    doc.circle(x + INSET + HOLE_RADIUS, y + INSET + HOLE_RADIUS, HOLE_RADIUS);
    doc.lineWidth(0.8).strokeColor(PALETTE.magnetite).stroke();
    doc.rect(x + INSET, y + 62, TAG_WIDTH - 2 * INSET, 1.4).fill(PALETTE.ironOxide);
  });
}

function drawTag(sheet: Sheet, tag: PartTag, shopName: string, x: number, y: number): void {
  const section = sheet.group(sheet.root, "Sect");
  const left = x + INSET;
  const right = x + TAG_WIDTH - INSET;
  const width = right - left;
  sheet.tagged(section, "H1", () => {
    sheet.print("Job", left + 18, y + INSET - 2, STYLES.label);
    const job = String(tag.jobNumber);
    sheet.print(job, left + 18, y + INSET + 7, fitted(sheet, job, MARK, width * 0.55));
    sheet.printRight("Part", right, y + INSET - 2, STYLES.label, 40);
    sheet.printRight(tag.mark, right, y + INSET + 7, MARK, width * 0.3);
  });
  sheet.y = y + 68;
  const what = tag.quantity > 1 ? `${tag.quantity} × ${tag.description}` : tag.description;
  const print = (lines: readonly string[], style: TextStyle) => {
    if (lines.length > 0) sheet.tagged(section, "P", () => sheet.printLines(lines, left, style));
  };
  const short = (text: string, most: number, style: TextStyle) =>
    firstLines(text, most, width, sheet.measure(style));
  print(short(what, 2, NAME), NAME);
  const owner =
    tag.promisedFor === null ? tag.customerName : `${tag.customerName}, ready ${tag.promisedFor}`;
  print(short(owner, 2, STYLES.body), STYLES.body);
  const footY = y + TAG_HEIGHT - INSET - lineHeight(STYLES.label) + 3;
  sheet.y += 3;
  if (tag.verdict !== null) print(short(tag.verdict, 1, STYLES.strong), STYLES.strong);
  const room = Math.floor((footY - sheet.y - 2) / lineHeight(CONDITION));
  print(conditionLines(sheet, tag.conditions, width, room), CONDITION);
  sheet.tagged(section, "P", () => {
    const [shop = ""] = firstLines(shopName, 1, width, sheet.measure(STYLES.label));
    sheet.print(shop, left, footY, STYLES.label);
  });
  section.end();
}

const fitted = (sheet: Sheet, text: string, style: TextStyle, width: number): TextStyle => {
  const natural = sheet.measure(style)(text);
  return natural > width ? { ...style, size: (style.size * width) / natural } : style;
};

/** As many conditions as fit; where some do not, the last line says so, for none may be lost in silence. */
function conditionLines(
  sheet: Sheet,
  conditions: readonly string[],
  width: number,
  room: number,
): string[] {
  const measure = sheet.measure(CONDITION);
  const all = conditions.flatMap((condition) => wrap(`• ${condition}`, width, measure));
  if (all.length <= room) return all;
  return [...all.slice(0, Math.max(0, room - 1)), "… more: read the plan before it goes in."];
}
