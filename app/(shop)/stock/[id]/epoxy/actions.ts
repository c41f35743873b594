"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { formAction, input } from "@/lib/server";
import { describeEpoxy, epoxyPage } from "@/lib/services";
import { MixSchema, mixHref } from "./mix";

export const describeEpoxyAction = formAction(
  (units) =>
    z.object({
      itemId: input.id,
      hardenerPer100ByMass: input.optionalNumberFrom(0, 1000, "g"),
      hardenerPer100ByVolume: input.optionalNumberFrom(0, 1000, "mL"),
      densityGPerMl: input.optionalNumberFrom(0.5, 5, "g/mL"),
      referenceC: input.measureFrom("temperature", 0, 60, units),
      potLifeMin: input.numberFrom(1, 1000, "min"),
      cureHours: input.numberFrom(0.1, 1000, "h"),
      leastCureC: input.measureFrom("temperature", -20, 60, units),
      shelfLifeDays: input.optionalNumberFrom(1, 10_000, "days"),
    }),
  async (actor, { itemId, ...sheet }) => {
    await describeEpoxy(actor, itemId, sheet, new Date());
    revalidatePath(`/stock/${itemId}/epoxy`);
    return { message: "Written." };
  },
);

export const mixAction = formAction(
  (units) =>
    z.object({
      itemId: input.id,
      by: MixSchema.shape.by,
      amountG: input.optionalMeasureFrom("salt", 0.1, 100_000, units),
      areaCm2: input.optionalMeasureFrom("opening", 0.1, 100_000, units),
      thicknessMm: input.optionalMeasureFrom("thickness", 0.1, 100, units),
      temperatureC: input.measureFrom("temperature", -20, 60, units),
    }),
  async (actor, { itemId, amountG, areaCm2, thicknessMm, ...mix }) => {
    const { sheet } = await epoxyPage(actor, itemId, new Date());
    const ratio = mix.by === "MASS" ? sheet?.hardenerPer100ByMass : sheet?.hardenerPer100ByVolume;
    if (!ratio) {
      throw new Refusal("invalid", "The maker's sheet gives no such ratio.", {
        by: "Choose the other way: the two parts differ in density, so one ratio is not the other.",
      });
    }
    if (amountG === null && (areaCm2 === null || thicknessMm === null)) {
      throw new Refusal("invalid", "How much?", {
        amountG: "Enter an amount, or the patch's area and thickness.",
      });
    }
    const size = { amountG: amountG ?? 0, areaCm2: areaCm2 ?? 0, thicknessMm: thicknessMm ?? 0 };
    redirect(mixHref(itemId, { ...mix, ...size }));
  },
);
