"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { measureBath, recordCare } from "@/lib/services";

const key = z.uuid("This page is out of date. Open it again.");

export const measureBathAction = formAction(
  (units) =>
    z.object({
      tankId: input.id,
      measuredBy: z.enum(["METER", "CURRENT"]),
      conductivitySPerM: input.measureFrom("conductivity", 0.001, 20, units),
      temperatureC: input.measureFrom("temperature", 0, 50, units),
      idempotencyKey: key,
    }),
  async (actor, found) => {
    const { beforeG, afterG } = await measureBath(actor, found, new Date());
    revalidatePath(`/tanks/${found.tankId}`);
    const share = beforeG > 0 ? Math.round((100 * afterG) / beforeG) : 100;
    return { message: `Written down: ${share} % of the soda that the books had.` };
  },
);

export const recordCareAction = formAction(
  z.object({
    tankId: input.id,
    kind: z.enum(["CLAMPS", "ANODE_BRUSHED", "SLUDGE_OUT"]),
    note: input.optionalText(200),
    idempotencyKey: key,
  }),
  async (actor, done) => {
    await recordCare(actor, done, new Date());
    revalidatePath(`/tanks/${done.tankId}`);
    return { message: "Written down. Its time starts anew." };
  },
);
