import { redirect } from "next/navigation";
import { cache } from "react";
import { findShop, reading, type ShopRow } from "@/lib/data";

/** The shop's settings, read once a request; the first visitor is sent to open the shop. */
export const shopSettings = cache(async (): Promise<ShopRow> => {
  const shop = await reading(findShop);
  if (!shop) redirect("/welcome");
  return shop;
});

/** Whether the shop has been opened. */
export async function isShopOpen(): Promise<boolean> {
  return (await reading(findShop)) !== null;
}
