"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { STL_UNITS } from "@/lib/field";
import { formAction, input } from "@/lib/server";
import { addOwnShape, askFieldAgain, removeOwnShape, takeOverMeasures } from "@/lib/services";

const WhichPart = z.object({ id: input.id });

export const askFieldAgainAction = formAction(WhichPart, async (actor, { id }) => {
  await askFieldAgain(actor, id, new Date());
  revalidatePath(`/parts/${id}`);
  return { message: "Asked for." };
});

export const addOwnShapeAction = formAction(
  WhichPart.extend({
    file: z.instanceof(File, { error: "Choose an STL file." }),
    unit: z.enum(STL_UNITS, "Choose the unit that it was drawn in."),
  }),
  async (actor, { id, file, unit }) => {
    const { triangles } = await addOwnShape(actor, { partId: id, file, unit }, new Date());
    revalidatePath(`/parts/${id}`);
    return { message: `Kept: ${triangles} triangles.` };
  },
);

export const removeOwnShapeAction = formAction(WhichPart, async (actor, { id }) => {
  await removeOwnShape(actor, id, new Date());
  revalidatePath(`/parts/${id}`);
});

export const takeOverMeasuresAction = formAction(WhichPart, async (actor, { id }) => {
  await takeOverMeasures(actor, id, new Date());
  revalidatePath(`/parts/${id}`);
  return { message: "Taken over. The part was judged anew; plan it anew." };
});
