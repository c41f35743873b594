import { PALETTE } from "./palette";
import { amountWriter } from "./quote-words";
import { lineHeight, PAGE, type Sheet, STYLES } from "./sheet";
import type { QuoteDocument, QuoteDocumentAnswer } from "./types";
import { firstLines, printable } from "./wrap";

const INSET = 14;
const X = PAGE.left + INSET;
const WIDTH = PAGE.right - X - INSET;
const SIGNATURE_FIELDS = ["Name", "Date", "Signature"] as const;
/** room for three lines to write on, points */
const SIGNING_HEIGHT = 46;
/** a box to tick */
const BOX = 8;
const WAY_HEIGHT = lineHeight(STYLES.body) + 3;

/** How to say yes: on the private page, or with a signature on this paper; afterwards, who said it and when. */
export function answerSection(sheet: Sheet, quote: QuoteDocument): void {
  if (quote.accepted) acceptedPanel(sheet, quote.accepted);
  else openPanel(sheet, quote);
}

function acceptedPanel(sheet: Sheet, { name, when, option }: QuoteDocumentAnswer): void {
  const what = option === null ? "Accepted" : `“${option}” accepted`;
  const by = sheet.lines(`${what} by ${name}, ${when}.`, STYLES.strong, WIDTH);
  const how = sheet.lines("Answered on the private page of this quote.", STYLES.small, WIDTH);
  const height = by.length * lineHeight(STYLES.strong) + how.length * lineHeight(STYLES.small);
  panel(sheet, "Accepted", height + 6, () => {
    sheet.tagged(sheet.root, "P", () => sheet.printLines(by, X, STYLES.strong));
    sheet.tagged(sheet.root, "P", () => sheet.printLines(how, X, STYLES.small));
  });
}

function openPanel(sheet: Sheet, quote: QuoteDocument): void {
  const { acceptLink } = quote;
  const several = quote.options.length > 1;
  const sign = several ? "tick one way and sign below" : "sign below";
  const give = `${sign} and give or send this page to ${quote.shop.name} by ${quote.validUntil}.`;
  const how =
    acceptLink === null
      ? `To accept, ${give}`
      : `To accept, open your private page by ${quote.validUntil}. Or ${give}`;
  const howLines = sheet.lines(how, STYLES.body, WIDTH);
  const linkLines = acceptLink === null ? [] : sheet.lines(acceptLink, STYLES.link, WIDTH);
  const ways = several ? quote.options : [];
  const height =
    howLines.length * lineHeight(STYLES.body) +
    linkLines.length * lineHeight(STYLES.link) +
    ways.length * WAY_HEIGHT +
    SIGNING_HEIGHT;
  panel(sheet, "Your answer", height, (bottom) => {
    sheet.tagged(sheet.root, "P", () => sheet.printLines(howLines, X, STYLES.body));
    if (acceptLink !== null) link(sheet, linkLines, acceptLink);
    const amount = amountWriter(quote);
    for (const { name, totalMinor } of ways) wayToTick(sheet, name, amount(totalMinor));
    signature(sheet, bottom - 12);
  });
}

/** A titled panel of `height` points of content, whole on one page where it fits one. */
function panel(sheet: Sheet, title: string, content: number, draw: (bottom: number) => void): void {
  const height = lineHeight(STYLES.heading) + content + 22;
  sheet.y += 14;
  sheet.room(height);
  const top = sheet.y;
  sheet.panel(top, height, PALETTE.ironOxide);
  sheet.y = top + 10;
  sheet.tagged(sheet.root, "H2", () => sheet.printLines([title], X, STYLES.heading));
  sheet.y += 2;
  draw(top + height);
  sheet.y = top + height;
}

function link(sheet: Sheet, lines: readonly string[], target: string): void {
  const paragraph = sheet.group(sheet.root, "P");
  sheet.tagged(paragraph, "Link", () => {
    for (const line of lines) {
      sheet.doc.font(STYLES.link.face).fontSize(STYLES.link.size).fillColor(STYLES.link.colour);
      sheet.doc.text(line, X, sheet.y, { lineBreak: false, link: target, underline: true });
      sheet.y += lineHeight(STYLES.link);
    }
  });
  paragraph.end();
}

/** One of several ways, with a box before it. */
function wayToTick(sheet: Sheet, name: string, total: string): void {
  sheet.y += 3;
  const top = sheet.y;
  sheet.decoration(() =>
    sheet.doc
      .rect(X, top + 2, BOX, BOX)
      .lineWidth(0.8)
      .strokeColor(PALETTE.magnetite)
      .stroke(),
  );
  const words = `${name}: ${total} with tax`;
  const shown = firstLines(words, 1, WIDTH - BOX - 8, sheet.measure(STYLES.body));
  sheet.tagged(sheet.root, "P", () => sheet.printLines(shown, X + BOX + 8, STYLES.body));
}

/** Three lines to write on. */
function signature(sheet: Sheet, bottom: number): void {
  const gap = 14;
  const each = (WIDTH - gap * (SIGNATURE_FIELDS.length - 1)) / SIGNATURE_FIELDS.length;
  SIGNATURE_FIELDS.forEach((label, index) => {
    const left = X + index * (each + gap);
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
