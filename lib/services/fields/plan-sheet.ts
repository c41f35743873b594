import { type Actor, requirePermission } from "@/lib/access";
import { findPart, type PartRow, reading, type ShopRow } from "@/lib/data";
import { type FieldPicture, type PlanSheet, planSheetPdf, type SheetFact } from "@/lib/documents";
import { SALT_GRADE_FACTS } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { type FieldSubject, GOAL_NAMES, type InnerAnodeFound } from "@/lib/treatment";
import { formatMeasure, formatNumber, said, type UnitSystem } from "@/lib/units";
import { calendarDay, dayText } from "../calendar";
import { requirePart } from "../intake/parts";
import { requireShop } from "../open-shop";
import { SAFETY_CHECKS } from "../runs/safety";
import type { HungInside } from "./picture";
import { fieldNow, type FieldOfPart } from "./see";
import { fieldInWords, hoursWords } from "./sheet-words";
import { subjectNow } from "./subject";
import { inThread, Stopped } from "../threads/thread";

/** Longest that the picture may take, ms; without it the sheet is printed all the same. */
const MOST_DRAWING_MS = 20_000;

export type PlanSheetFile = {
  readonly bytes: Uint8Array;
  readonly jobNumber: number;
  readonly mark: string;
};

/**
 * The plan of a part on paper for the bench, with what the field says of it as far as it is known.
 *
 * @throws Refusal not-allowed | not-found | conflict where the part has no plan
 */
export async function planSheet(actor: Actor, partId: string, now: Date): Promise<PlanSheetFile> {
  requirePermission(actor, "see-shop");
  const { part, shop, field, subject } = await reading(async (db) => {
    const found = await requirePart(findPart(db, partId));
    if (!found.plan) throw new Refusal("conflict", "This part has no plan yet.");
    return {
      part: found,
      shop: await requireShop(db),
      field: await fieldNow(db, partId),
      subject: await subjectNow(db, partId),
    };
  });
  const hung = part.plan?.result.innerAnode ? bestInside(field) : null;
  const drawn = typeof subject === "string" ? subject : await picture(subject.subject, hung);
  const words = fieldInWords(field, shop.unitSystem, hung);
  const bytes = await planSheetPdf({
    ...planInWords(part, shop),
    field: {
      ...words,
      ...(typeof drawn === "string"
        ? { picture: null, notice: [words.notice, said(drawn, shop.unitSystem)].join(" ").trim() }
        : { picture: drawn }),
    },
    madeAt: now,
  });
  return { bytes, jobNumber: part.job.number, mark: part.mark };
}

/** Drawn in a thread; or in words why there is no picture. */
async function picture(
  subject: FieldSubject,
  hung: HungInside | null,
): Promise<FieldPicture | string> {
  try {
    return await inThread("picture", { subject, hung }, { mostMs: MOST_DRAWING_MS });
  } catch (error) {
    if (error instanceof RangeError) return `It cannot be drawn: ${error.message}.`;
    if (error instanceof Stopped) return "The drawing took too long and was left out.";
    throw error;
  }
}

/** What a plan with an anode inside hangs there. */
const bestInside = (field: FieldOfPart | null): InnerAnodeFound | null =>
  field?.outdated === false ? (field.findings?.innerAnodes[0] ?? null) : null;

function planInWords(part: PartRow, shop: ShopRow): Omit<PlanSheet, "field" | "madeAt"> {
  const { plan } = part;
  if (!plan) throw new RangeError(`part ${part.mark} has no plan to print`);
  const units = shop.unitSystem;
  const { result } = plan;
  const day = dayText(calendarDay(plan.madeAt, shop.timeZone), shop.locale);
  return {
    shopName: shop.name,
    jobNumber: part.job.number,
    mark: part.mark,
    description: part.quantity > 1 ? `${part.quantity} × ${part.description}` : part.description,
    customerName: part.job.customer.name,
    made: `version ${plan.version}, ${plan.madeBy.name}, ${day}`,
    notices:
      part.state === "TAKEN_IN"
        ? ["The part was changed after this plan was made: plan it anew before it goes in."]
        : [],
    answer: `${result.tankName}: ${hoursWords(result.hours)}`,
    facts: facts(result, units, part),
    cautions: [
      ...result.warnings,
      ...(part.verdict?.findings.findings ?? []).map(({ title, whatToDo }) =>
        [`${title}.`, whatToDo].filter(Boolean).join(" "),
      ),
    ].map((words) => said(words, units)),
    steps: stepGroups(result, units),
  };
}

type Plan = NonNullable<PartRow["plan"]>["result"];

function facts(plan: Plan, units: UnitSystem, part: PartRow): SheetFact[] {
  const { figures, hoursWithInnerAnode: inner, reliefBake: bake } = plan;
  const volume = formatMeasure("volume", figures.solutionL.value, units);
  const { low, mid, high } = plan.currentA;
  const saltG = figures.saltG.value;
  const optional: SheetFact[] = [];
  if (plan.dips > 1) optional.push({ label: "Dips", value: `${plan.dips}, end for end` });
  if (inner) optional.push({ label: "With an inner anode", value: hoursWords(inner) });
  if (bake) {
    const range = said(`{${bake.leastC} to ${bake.mostC} °C}`, units);
    const start = `begun within ${bake.startWithinHours} h of pulling`;
    optional.push({ label: "Relief bake", value: `${bake.hours} h at ${range}, ${start}` });
  }
  return [
    { label: "Tank", value: plan.tankName },
    { label: "How it lies", value: said(plan.lieWords, units) },
    {
      label: "Level with the part in",
      value: formatMeasure("length", plan.levelMm, units, units === "US" ? {} : { decimals: 0 }),
    },
    { label: plan.freshMix ? "Bath, mixed fresh" : "Bath, as it stands", value: volume },
    {
      label: `${SALT_GRADE_FACTS[plan.saltGrade].name}, to add`,
      value: saltG > 0 ? formatMeasure("salt", saltG, units) : "none",
    },
    {
      label: "Current",
      value: `${formatNumber(mid)} A, ${formatNumber(low)} to ${formatNumber(high)} A`,
    },
    { label: "Hours in the bath", value: hoursWords(plan.hours) },
    { label: "Charge", value: `${formatNumber(figures.chargeAh.value)} A·h` },
    { label: "Wanted", value: GOAL_NAMES[part.goal] },
    ...optional,
  ];
}

function stepGroups(plan: Plan, units: UnitSystem): PlanSheet["steps"] {
  const of = (when: Plan["steps"][number]["when"]) =>
    plan.steps
      .filter((step) => step.when === when)
      .map(({ title, detail, caution }) => ({
        title,
        detail: said(detail, units),
        caution: caution && said(caution, units),
      }));
  return [
    { when: "Before the bath", steps: of("BEFORE") },
    {
      when: "Before current flows",
      steps: SAFETY_CHECKS.map(({ text, why }) => ({ title: text, detail: why, caution: null })),
    },
    { when: "In the bath", steps: of("BATH") },
    { when: "After the bath", steps: of("AFTER") },
  ];
}
