import { PALETTE } from "./palette";
import { fieldSection } from "./plan-sheet-field";
import type { PlanSheet, SheetFact } from "./plan-sheet-types";
import { CONTENT_WIDTH, lineHeight, PAGE, Sheet, STYLES, type TextStyle } from "./sheet";
import { firstLines } from "./wrap";

const FOOT_Y = 750;
const MARK_SIZE = 46;
const FACT_COLUMNS = 3;
const BOX = 8;
const STEP_INDENT = 18;

const MARK: TextStyle = { face: "bold", size: 27, colour: PALETTE.white };
const ANSWER: TextStyle = { face: "bold", size: 13, colour: PALETTE.bath };

/**
 * The plan of one part on paper, for the bench: what to do in its order with boxes to tick, and what the field says of
 * it with a drawing. A4, everything within what US Letter shows too, tagged for screen readers, fonts embedded.
 *
 * @param plan everything printed, in words; long words are wrapped, the head's cut with "…"
 * @returns the file; the same data give the same bytes
 * @example await planSheetPdf(plan) // %PDF-1.7 …
 */
export async function planSheetPdf(plan: PlanSheet): Promise<Uint8Array<ArrayBuffer>> {
  const sheet = new Sheet({
    title: `Plan for the bench, job ${plan.jobNumber}, part ${plan.mark}`,
    author: plan.shopName,
    locale: "en",
    madeAt: plan.madeAt,
  });
  head(sheet, plan);
  for (const notice of plan.notices) caution(sheet, notice);
  sheet.y += 8;
  sheet.paragraph(sheet.root, plan.answer, ANSWER);
  sheet.y += 6;
  factGrid(sheet, plan.facts);
  if (plan.cautions.length > 0) {
    sheet.heading(sheet.root, "Be careful");
    for (const words of plan.cautions) caution(sheet, words);
  }
  for (const { when, steps } of plan.steps) {
    if (steps.length === 0) continue;
    sheet.heading(sheet.root, when);
    for (const step of steps) oneStep(sheet, step);
  }
  if (plan.field) fieldSection(sheet, plan.field, factGrid);
  return sheet.finish((page, pages) => foot(sheet, plan, page, pages));
}

/** The mark as large as on the part's tag, so that sheet and part find each other. */
function head(sheet: Sheet, plan: PlanSheet): void {
  const { doc } = sheet;
  const top = sheet.y;
  const x = PAGE.left + MARK_SIZE + 14;
  const width = PAGE.right - x;
  sheet.decoration(() => {
    doc.rect(PAGE.left, top, MARK_SIZE, MARK_SIZE).fill(PALETTE.magnetite);
  });
  sheet.tagged(sheet.root, "H1", () => {
    const natural = sheet.measure(MARK)(plan.mark);
    const size = Math.min(MARK.size, (MARK.size * (MARK_SIZE - 8)) / natural);
    const style = { ...MARK, size };
    const left = PAGE.left + (MARK_SIZE - sheet.measure(style)(plan.mark)) / 2;
    sheet.print(plan.mark, left, top + (MARK_SIZE - lineHeight(style)) / 2, style);
    const [name = ""] = firstLines(plan.description, 1, width, sheet.measure(STYLES.shop));
    sheet.print(name, x, top + 1, STYLES.shop);
  });
  sheet.tagged(sheet.root, "P", () => {
    const lines = [
      ...firstLines(
        `Job ${plan.jobNumber}, part ${plan.mark}, ${plan.customerName}`,
        1,
        width,
        sheet.measure(STYLES.body),
      ),
      ...firstLines(`Plan: ${plan.made}`, 1, width, sheet.measure(STYLES.small)),
    ];
    sheet.print(lines[0] ?? "", x, top + 21, STYLES.body);
    sheet.print(lines[1] ?? "", x, top + 35, STYLES.small);
  });
  sheet.y = top + MARK_SIZE + 8;
  sheet.rule(sheet.y, PALETTE.ironOxide, 1.4);
  sheet.y += 6;
}

/** Names over values, some a row; a row is as high as its longest value. */
function factGrid(sheet: Sheet, facts: readonly SheetFact[]): void {
  const width = CONTENT_WIDTH / FACT_COLUMNS;
  for (let first = 0; first < facts.length; first += FACT_COLUMNS) {
    const row = facts.slice(first, first + FACT_COLUMNS).map(({ label, value }) => ({
      label,
      lines: firstLines(value, 4, width - 12, sheet.measure(STYLES.strong)),
    }));
    const most = Math.max(...row.map(({ lines }) => lines.length));
    const height = lineHeight(STYLES.label) + most * lineHeight(STYLES.strong) + 5;
    sheet.room(height);
    const top = sheet.y;
    row.forEach(({ label, lines }, column) => {
      const x = PAGE.left + column * width;
      sheet.tagged(sheet.root, "P", () => {
        sheet.print(label, x, top, STYLES.label);
        lines.forEach((line, index) => {
          const y = top + lineHeight(STYLES.label) + index * lineHeight(STYLES.strong);
          sheet.print(line, x, y, STYLES.strong);
        });
      });
    });
    sheet.y = top + height;
  }
}

/** A caution: a word and a sign as well as a colour. */
function caution(sheet: Sheet, words: string): void {
  const lines = sheet.lines(`Note: ${words}`, STYLES.caution, CONTENT_WIDTH - STEP_INDENT);
  sheet.room(Math.min(2, lines.length) * lineHeight(STYLES.caution));
  const { doc, y } = sheet;
  sheet.decoration(() => {
    doc.polygon([PAGE.left + 5, y + 2], [PAGE.left + 10, y + 11], [PAGE.left, y + 11]);
    doc.lineWidth(0.9).lineJoin("round").strokeColor(PALETTE.brass).stroke();
  });
  sheet.tagged(sheet.root, "P", () =>
    sheet.printLines(lines, PAGE.left + STEP_INDENT, STYLES.caution),
  );
  sheet.y += 2;
}

type Step = PlanSheet["steps"][number]["steps"][number];

/** A box to tick, what to do, how, and what to mind. */
function oneStep(sheet: Sheet, { title, detail, caution: care }: Step): void {
  const x = PAGE.left + STEP_INDENT;
  sheet.room(lineHeight(STYLES.strong) + lineHeight(STYLES.body));
  const { doc, y } = sheet;
  sheet.decoration(() => {
    doc.rect(PAGE.left + 1, y + 2.5, BOX, BOX);
    doc.lineWidth(0.8).strokeColor(PALETTE.magnetite).stroke();
  });
  const section = sheet.group(sheet.root, "Sect");
  sheet.tagged(section, "H3", () =>
    sheet.printLines(sheet.lines(title, STYLES.strong, PAGE.right - x), x, STYLES.strong),
  );
  if (detail) sheet.paragraph(section, detail, STYLES.body, x);
  if (care) sheet.paragraph(section, `Note: ${care}`, STYLES.caution, x);
  section.end();
  sheet.y += 3;
}

function foot(sheet: Sheet, plan: PlanSheet, page: number, pages: number): void {
  const { doc } = sheet;
  doc.moveTo(PAGE.left, FOOT_Y).lineTo(PAGE.right, FOOT_Y);
  doc.lineWidth(0.6).strokeColor(PALETTE.hairline).stroke();
  const what = `Job ${plan.jobNumber}, part ${plan.mark} · ${plan.shopName}`;
  const [line = ""] = firstLines(what, 1, 380, sheet.measure(STYLES.small));
  sheet.print(line, PAGE.left, FOOT_Y + 5, STYLES.small);
  sheet.printRight(`Page ${page} of ${pages}`, PAGE.right, FOOT_Y + 5, STYLES.small, 100);
}
