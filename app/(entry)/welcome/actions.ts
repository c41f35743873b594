"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { countTry, input, openFormAction } from "@/lib/server";
import { openShop } from "@/lib/services";

const OpenShopForm = z.object({
  setupCode: input.text("the code from the terminal", 40),
  ownerName: input.text("your name"),
  ownerEmail: input.email,
  password: input.newPassword,
  shopName: input.text("a name"),
  timeZone: input.text("a time zone"),
  locale: input.text("a language and country"),
  currency: input.text("a currency", 3),
  unitSystem: z.enum(["METRIC", "US"]),
  contents: z.enum(["EMPTY", "EXAMPLE"]),
});

export const openShopAction = openFormAction(OpenShopForm, async (shop) => {
  // One count for everybody: there is one code, and it is short enough to be tried.
  await countTry("setup-code", "all");
  await openShop(shop, new Date());
  redirect("/sign-in?opened=1");
});
