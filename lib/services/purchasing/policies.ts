import { type Actor, may, requirePermission } from "@/lib/access";
import {
  inTransaction,
  type PolicyRow,
  policiesOf,
  reading,
  recordAudit,
  savePolicy,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { SERVICE_LEVELS } from "@/lib/stock";
import { requireItem } from "../stock/items";
import { type ItemOrdering, orderingOfItem } from "./levels";

/** One item as it is ordered; without prices for people who may not see money. */
export type ItemOrderingView = ItemOrdering & { readonly seesMoney: boolean };

/** @throws Refusal not-allowed | not-found */
export async function seeOrdering(
  actor: Actor,
  itemId: string,
  now: Date,
): Promise<ItemOrderingView> {
  requirePermission(actor, "see-shop");
  const seesMoney = may(actor, "see-money");
  return reading(async (db) => {
    const found = await orderingOfItem(db, await requireItem(db, itemId), now);
    if (seesMoney) return { ...found, seesMoney };
    const policy = { ...found.policy, holdingMinor: null, orderCostMinor: null };
    return { ...found, policy, economic: null, unitMinor: null, seesMoney };
  });
}

/**
 * Says how an item is ordered. Who may not see money leaves its costs as they are.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function setPolicy(actor: Actor, policy: PolicyRow, now: Date): Promise<void> {
  requirePermission(actor, "keep-stock");
  checkPolicy(policy);
  await inTransaction(async (db) => {
    await requireItem(db, policy.itemId);
    const before = (await policiesOf(db, { itemId: policy.itemId })).get(policy.itemId);
    const costs = may(actor, "see-money") ? policy : before;
    await savePolicy(db, {
      ...policy,
      holdingPercent: costs?.holdingPercent ?? null,
      holdingMinor: costs?.holdingMinor ?? null,
      orderCostMinor: costs?.orderCostMinor ?? null,
    });
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.ordering-set",
      subjectType: "item",
      subjectId: policy.itemId,
      detail: { mode: policy.mode, serviceLevel: policy.serviceLevel },
    });
  });
}

const MOST_PERCENT = 1000;
const orNothing = (value: number | null, holds: (value: number) => boolean): boolean =>
  value === null || holds(value);

function checkPolicy(policy: PolicyRow): void {
  const fields: Record<string, string> = {};
  const { least, most } = SERVICE_LEVELS;
  if (!(policy.serviceLevel >= least && policy.serviceLevel <= most)) {
    fields["servicePercent"] = `Enter ${100 * least} to ${100 * most} %.`;
  }
  if (!orNothing(policy.holdingPercent, (share) => share >= 0 && share <= MOST_PERCENT)) {
    fields["holdingPercent"] = `Enter 0 to ${MOST_PERCENT} %, or nothing.`;
  }
  if (policy.holdingPercent !== null && policy.holdingMinor !== null) {
    fields["holdingPercent"] = "Enter either this or the amount of money, not both.";
  }
  if (!orNothing(policy.holdingMinor, (minor) => minor >= 0)) {
    fields["holding"] = "Enter 0 or more, or nothing.";
  }
  if (!orNothing(policy.orderCostMinor, (minor) => minor >= 0 && Number.isSafeInteger(minor))) {
    fields["orderCost"] = "Enter 0 or more, or nothing.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
}
