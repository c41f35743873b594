import { redirect } from "next/navigation";
import { connection } from "next/server";
import { cache } from "react";
import { findShop, reading, type ShopRow } from "@/lib/data";

/** The shop of this request. Waits for one: pages are built where there is no database. */
const shopNow = cache(async (): Promise<ShopRow | null> => {
  await connection();
  return reading(findShop);
});

/** What screens know of the shop: name, zone, currency, customs. */
export type ShopSettings = ShopRow;

/** The shop's settings, read once a request; the first visitor is sent to open the shop. */
export async function shopSettings(): Promise<ShopRow> {
  const shop = await shopNow();
  if (!shop) redirect("/welcome");
  return shop;
}

/** Whether the shop has been opened. */
export async function isShopOpen(): Promise<boolean> {
  return (await shopNow()) !== null;
}
