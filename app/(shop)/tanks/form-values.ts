import { z } from "zod";
import { input } from "@/lib/server";
import type { addTank, SaltAmount } from "@/lib/services";
import { formatMeasure, parseMeasure, type UnitSystem } from "@/lib/units";

type NewTank = Parameters<typeof addTank>[1];

/** A tank as its form sends it, in the units the form was shown in. */
export function tankForm(units: UnitSystem) {
  const measure = input.measureFrom("length", 1, 10_000, units);
  const optionalMeasure = input.optionalMeasureFrom("length", 1, 10_000, units);
  return z.object({
    name: input.text("a name people say", 60),
    place: input.optionalText(100),
    kind: z.enum(["TAPERED_BOX", "ROUND", "MEASURED"]),
    topLengthMm: measure,
    topWidthMm: optionalMeasure,
    bottomLengthMm: measure,
    bottomWidthMm: optionalMeasure,
    depthMm: measure,
    workingLevelMm: measure,
    clearanceMm: input.measureFrom("length", 0, 500, units),
    marks: z
      .string()
      .default("")
      .transform((typed) => parseMarks(typed, units))
      .refine((marks) => marks !== null, { error: MARKS_EXPECTED[units] }),
    supplyId: z
      .union([z.literal(""), input.id])
      .default("")
      .transform((id) => id || null),
    leadLengthM: input.measureFrom("distance", 0.1, 50, units),
    leadAreaMm2: input.measureFrom("section", 0.1, 200, units),
    contactOhm: input.numberFrom(0, 10, "Ω"),
    notes: input.optionalText(),
  });
}

/** The tank that a form describes: a round one has one measure across, so its width is its diameter. */
export function tankOf({ marks, ...form }: z.output<ReturnType<typeof tankForm>>): NewTank {
  const round = form.kind === "ROUND";
  return {
    ...form,
    topWidthMm: round ? form.topLengthMm : (form.topWidthMm ?? form.topLengthMm),
    bottomWidthMm: round ? form.bottomLengthMm : (form.bottomWidthMm ?? form.bottomLengthMm),
    marks: form.kind === "MEASURED" ? marks : [],
  };
}

const MOST_SALT_G = 100_000;
const MOST_POWDER_L = 100;

/** Soda for a bath: which, and how much of it, weighed or by the cup and spoon. */
export const saltFields = (units: UnitSystem) => ({
  saltItemId: z.union([z.literal(""), input.id]).default(""),
  saltG: z
    .string()
    .trim()
    .default("")
    .transform((typed, context): SaltAmount | null => {
      if (typed === "") return null;
      const massG = parseMeasure("salt", typed, units);
      if (typeof massG === "number" && massG >= 0 && massG <= MOST_SALT_G) return { massG };
      const powderL = parseMeasure("volume", typed, units);
      const byCup = typeof massG === "string" && typeof powderL === "number";
      if (byCup && powderL >= 0 && powderL <= MOST_POWDER_L) return { powderL };
      const most = formatMeasure("salt", MOST_SALT_G, units);
      const message = typeof massG === "string" ? massG : `Expected from 0 to ${most}, or nothing.`;
      context.addIssue({ code: "custom", message });
      return z.NEVER;
    }),
});

/** Salt where an item and an amount were given. */
export function saltOf(itemId: string, amount: SaltAmount | null) {
  const nothing = amount === null || Object.values(amount).every((value) => value === 0);
  return itemId && !nothing ? { itemId, ...amount } : null;
}

const MARKS_EXPECTED: Readonly<Record<UnitSystem, string>> = {
  METRIC: "One line for each level: millimetres, a space, litres. For example 100 12.5",
  US: "One line for each level: inches, a space, US gallons. For example 4 1/2 3.3",
};

type Mark = { readonly levelMm: number; readonly volumeL: number };

/** @returns null where a line is not a level and what the tank holds up to there */
function parseMarks(text: string, units: UnitSystem): Mark[] | null {
  const lines = text.split("\n").filter((line) => line.trim() !== "");
  const marks = lines.map((line) => parseMark(line.trim(), units));
  return marks.every((mark) => mark !== null) ? marks : null;
}

/** A level and a volume, each with or without its unit, where the line can be split into these in one way only. */
function parseMark(line: string, units: UnitSystem): Mark | null {
  const words = line.split(/[\s;]+/);
  const read = words.slice(1).flatMap((_, index) => {
    const levelMm = parseMeasure("length", words.slice(0, index + 1).join(" "), units);
    const volumeL = parseMeasure("volume", words.slice(index + 1).join(" "), units);
    return typeof levelMm === "number" && typeof volumeL === "number" ? [{ levelMm, volumeL }] : [];
  });
  const [only, ...others] = read;
  return others.length === 0 ? (only ?? null) : null;
}
