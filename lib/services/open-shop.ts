import { type Db, findShop, type ShopRow } from "@/lib/data";

/** The shop's name, zone and currency, for services. @throws Error before the shop is open: no screen leads here then */
export async function requireShop(db: Db): Promise<ShopRow> {
  const shop = await findShop(db);
  if (!shop) throw new Error("No shop is open yet: the first visit comes before any work.");
  return shop;
}
