import { z } from "zod";
import { input } from "@/lib/server";
import type { addTank } from "@/lib/services";

type NewTank = Parameters<typeof addTank>[1];

const measure = input.numberFrom(1, 10_000, "mm");
const optionalMeasure = input.optionalNumberFrom(1, 10_000, "mm");

/** A tank as its form sends it. */
export const TankForm = z.object({
  name: input.text("a name people say", 60),
  place: input.optionalText(100),
  kind: z.enum(["TAPERED_BOX", "ROUND", "MEASURED"]),
  topLengthMm: measure,
  topWidthMm: optionalMeasure,
  bottomLengthMm: measure,
  bottomWidthMm: optionalMeasure,
  depthMm: measure,
  workingLevelMm: measure,
  clearanceMm: input.numberFrom(0, 500, "mm"),
  marks: z
    .string()
    .default("")
    .transform(parseMarks)
    .refine((marks) => marks !== null, {
      error: "One line for each level: millimetres, a space, litres. For example 100 12.5",
    }),
  supplyId: z
    .union([z.literal(""), input.id])
    .default("")
    .transform((id) => id || null),
  leadLengthM: input.numberFrom(0.1, 50, "m"),
  leadAreaMm2: input.numberFrom(0.1, 200, "mm²"),
  contactOhm: input.numberFrom(0, 10, "Ω"),
  notes: input.optionalText(),
});

/** The tank that a form describes: a round one has one measure across, so its width is its diameter. */
export function tankOf({ marks, ...form }: z.output<typeof TankForm>): NewTank {
  const round = form.kind === "ROUND";
  return {
    ...form,
    topWidthMm: round ? form.topLengthMm : (form.topWidthMm ?? form.topLengthMm),
    bottomWidthMm: round ? form.bottomLengthMm : (form.bottomWidthMm ?? form.bottomLengthMm),
    marks: form.kind === "MEASURED" ? marks : [],
  };
}

/** Salt where an item and a mass were given. */
export function saltOf(itemId: string, massG: number | null) {
  return itemId && massG ? { itemId, massG } : null;
}

/** @returns null where a line is not a level and its litres */
function parseMarks(text: string): { levelMm: number; volumeL: number }[] | null {
  const lines = text.split("\n").filter((line) => line.trim() !== "");
  const marks = lines.map((line) => {
    const words = line.trim().split(/[\s;]+/);
    const [levelMm = NaN, volumeL = NaN] = words.map((word) => Number(word.replace(",", ".")));
    return words.length === 2 ? { levelMm, volumeL } : { levelMm: NaN, volumeL: NaN };
  });
  const known = marks.every(
    (mark) => Number.isFinite(mark.levelMm) && Number.isFinite(mark.volumeL),
  );
  return known ? marks : null;
}
