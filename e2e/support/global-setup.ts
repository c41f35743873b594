/** One shop for all journeys. Specs find its address as Playwright's base URL and its code in SETUP_CODE. */
import { startShop } from "./start";

export default async function openShop(): Promise<() => Promise<void>> {
  const shop = await startShop(Number(process.env["JOURNEY_PORT"]));
  process.env["SETUP_CODE"] = shop.setupCode;
  return shop.stop;
}
