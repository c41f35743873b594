import { PALETTE } from "./palette";
import { lineHeight, PAGE, type Sheet, STYLES } from "./sheet";
import type { QuoteDocument } from "./types";
import { printable } from "./wrap";

const INSET = 14;
const SIGNATURE_FIELDS = ["Name", "Date", "Signature"] as const;

/** How to say yes: on the private page, or with a signature on this paper. */
export function answerSection(sheet: Sheet, quote: QuoteDocument): void {
  const x = PAGE.left + INSET;
  const width = PAGE.right - x - INSET;
  const how =
    quote.acceptLink === null
      ? `To accept, sign below and give or send this page to ${quote.shop.name} by ${quote.validUntil}.`
      : `To accept, open your private page by ${quote.validUntil}. Or sign below and give or send this page to ${quote.shop.name}.`;
  const howLines = sheet.lines(how, STYLES.body, width);
  const linkLines =
    quote.acceptLink === null ? [] : sheet.lines(quote.acceptLink, STYLES.link, width);
  const textHeight =
    lineHeight(STYLES.heading) +
    howLines.length * lineHeight(STYLES.body) +
    linkLines.length * lineHeight(STYLES.link);
  const height = textHeight + 62;
  sheet.y += 14;
  sheet.room(height);
  const top = sheet.y;
  sheet.panel(top, height, PALETTE.ironOxide);
  sheet.y = top + 10;
  sheet.tagged(sheet.root, "H2", () => sheet.printLines(["Your answer"], x, STYLES.heading));
  sheet.y += 2;
  sheet.tagged(sheet.root, "P", () => sheet.printLines(howLines, x, STYLES.body));
  if (quote.acceptLink !== null) link(sheet, linkLines, quote.acceptLink, x);
  signature(sheet, x, width, top + height - 12);
  sheet.y = top + height;
}

function link(sheet: Sheet, lines: readonly string[], target: string, x: number): void {
  const paragraph = sheet.group(sheet.root, "P");
  sheet.tagged(paragraph, "Link", () => {
    for (const line of lines) {
      sheet.doc.font(STYLES.link.face).fontSize(STYLES.link.size).fillColor(STYLES.link.colour);
      sheet.doc.text(line, x, sheet.y, { lineBreak: false, link: target, underline: true });
      sheet.y += lineHeight(STYLES.link);
    }
  });
  paragraph.end();
}

/** Three lines to write on. */
function signature(sheet: Sheet, x: number, width: number, bottom: number): void {
  const gap = 14;
  const each = (width - gap * (SIGNATURE_FIELDS.length - 1)) / SIGNATURE_FIELDS.length;
  SIGNATURE_FIELDS.forEach((label, index) => {
    const left = x + index * (each + gap);
    const line = bottom - 12;
    sheet.decoration(() =>
      sheet.doc
        .moveTo(left, line)
        .lineTo(left + each, line)
        .lineWidth(0.7)
        .strokeColor(PALETTE.zinc)
        .stroke(),
    );
    sheet.tagged(sheet.root, "P", () => sheet.print(label, left, line + 2, STYLES.label));
  });
}

export function termsSection(sheet: Sheet, terms: string): void {
  if (printable(terms) === "") return;
  sheet.heading(sheet.root, "Terms");
  for (const paragraph of printable(terms).split(/\n{2,}/)) {
    sheet.paragraph(sheet.root, paragraph, STYLES.small);
    sheet.y += 4;
  }
}
