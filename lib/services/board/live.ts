import { type Actor, requirePermission } from "@/lib/access";
import { onShopChange, type ShopChange } from "@/lib/data";

/** Changes, twice a second some of them, that no board shows: only the page of the very thing follows them. */
const PAGE_ONLY = ["part", "part_mesh", "plan_field"];

/**
 * Tells of every change that a board shows, as it is committed, and "resync" after a gap.
 *
 * @param about ids of rows: only their changes are told then; all that boards show when left out
 * @returns ends it
 * @throws Refusal not-allowed
 */
export function watchShop(
  actor: Actor,
  listener: (change: ShopChange) => void,
  about: readonly string[] = [],
): () => void {
  requirePermission(actor, "see-shop");
  return onShopChange((change) => {
    if (change.kind === "resync" || concerns(change, about)) listener(change);
  });
}

function concerns(
  { table, id }: Extract<ShopChange, { kind: "change" }>,
  about: readonly string[],
): boolean {
  return about.length > 0 ? about.includes(id) : !PAGE_ONLY.includes(table);
}
