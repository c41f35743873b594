import { type Actor, requirePermission } from "@/lib/access";
import { onShopChange, type ShopChange } from "@/lib/data";

/**
 * Tells of every change that a board shows, as it is committed, and "resync" after a gap.
 *
 * @returns ends it
 * @throws Refusal not-allowed
 */
export function watchShop(actor: Actor, listener: (change: ShopChange) => void): () => void {
  requirePermission(actor, "see-shop");
  return onShopChange(listener);
}
