"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { describeBars, measureOffcut, scrapOffcut } from "@/lib/services";
import { hasThickness, SECTION_SHAPES } from "@/lib/stock";

export const describeBarsAction = formAction(
  (units) => {
    const thick = input.optionalMeasureFrom("thickness", 0, 500, units);
    return z.object({
      itemId: input.id,
      shape: z.enum(SECTION_SHAPES, { error: "Choose a section." }),
      widthMm: input.measureFrom("thickness", 0.1, 3000, units),
      legMm: thick,
      thicknessMm: thick,
      stockLengthMm: input.measureFrom("length", 10, 20_000, units),
      kerfMm: input.measureFrom("thickness", 0, 20, units),
      leastOffcutMm: input.measureFrom("length", 1, 20_000, units),
    });
  },
  async (actor, { itemId, shape, widthMm, legMm, thicknessMm, ...sawn }) => {
    const section = {
      shape,
      widthMm,
      // What a shape does not have is left aside, so that it can be changed without emptying fields first.
      legMm: shape === "ANGLE" ? legMm : null,
      thicknessMm: hasThickness(shape) ? thicknessMm : null,
    };
    await describeBars(actor, itemId, { section, ...sawn }, new Date());
    revalidatePath(`/stock/${itemId}/steel`);
    return { message: "Written." };
  },
);

export const measureOffcutAction = formAction(
  (units) =>
    z.object({
      id: input.id,
      itemId: input.id,
      lotId: input.id,
      lengthMm: input.measureFrom("length", 1, 20_000, units),
    }),
  async (actor, offcut) => {
    const lengthMm = Math.round(offcut.lengthMm * 1000) / 1000;
    await measureOffcut(actor, { ...offcut, lengthMm }, new Date());
    revalidatePath(`/stock/${offcut.itemId}/steel`);
    return { message: "It is on the rack." };
  },
);

export const scrapOffcutAction = formAction(
  z.object({ itemId: input.id, offcutId: input.id }),
  async (actor, offcut) => {
    await scrapOffcut(actor, offcut, new Date());
    revalidatePath(`/stock/${offcut.itemId}/steel`);
  },
);
