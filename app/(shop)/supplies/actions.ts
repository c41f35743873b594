"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { addSupply, changeSupply, retireSupply } from "@/lib/services";

const SupplyForm = z.object({
  name: input.text("a name people say", 60),
  kind: z.enum(["CHARGER", "BENCH", "BATTERY"]),
  overCurrent: z.enum(["SAGS", "HOLDS", "TRIPS"]),
  openVoltageV: input.numberFrom(0.5, 60, "V"),
  innerResistanceOhm: input.numberFrom(0, 10, "Ω"),
  ratedCurrentA: input.numberFrom(0.1, 200, "A"),
  dutyPercent: input.numberFrom(5, 100, "%"),
  capacityAh: input.optionalNumberFrom(0.1, 2000, "A·h"),
  efficiencyPercent: input.numberFrom(5, 100, "%"),
});

type Typed = z.output<typeof SupplyForm>;

const supplyOf = ({ dutyPercent, efficiencyPercent, ...supply }: Typed) => ({
  ...supply,
  dutyFactor: dutyPercent / 100,
  efficiency: efficiencyPercent / 100,
});

export const addSupplyAction = formAction(SupplyForm, async (actor, form) => {
  await addSupply(actor, supplyOf(form), new Date());
  revalidatePath("/supplies");
  redirect("/supplies");
});

export const changeSupplyAction = formAction(
  SupplyForm.extend({ supplyId: input.id }),
  async (actor, { supplyId, ...form }) => {
    await changeSupply(actor, supplyId, supplyOf(form), new Date());
    revalidatePath("/supplies");
    redirect("/supplies");
  },
);

export const retireSupplyAction = formAction(
  z.object({ supplyId: input.id }),
  async (actor, { supplyId }) => {
    await retireSupply(actor, supplyId, new Date());
    revalidatePath("/supplies");
    redirect("/supplies");
  },
);
