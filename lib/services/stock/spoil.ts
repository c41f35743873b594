import { type Actor, requirePermission } from "@/lib/access";
import { inTransaction, recordAudit } from "@/lib/data";
import { takeStock } from "./consume";

export type Spoilage = {
  readonly itemId: string;
  /** the lot that went bad; without it, the oldest first */
  readonly lotId?: string | undefined;
  readonly quantity: number;
  /** what happened: "set hard", "spilled" */
  readonly note: string;
  readonly idempotencyKey?: string | undefined;
};

/**
 * Writes off what went bad, at its cost.
 *
 * @returns what it had cost, whole minor units
 * @throws Refusal not-allowed | not-found | invalid | not-enough-stock
 */
export async function spoilStock(actor: Actor, spoilage: Spoilage, now: Date): Promise<number> {
  requirePermission(actor, "keep-stock");
  return inTransaction(async (db) => {
    const { lotId, ...use } = spoilage;
    const taken = await takeStock(
      db,
      "SPOILED",
      { ...use, at: now, enteredById: actor.personId },
      lotId,
    );
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.spoiled",
      subjectType: "item",
      subjectId: spoilage.itemId,
      detail: { quantity: spoilage.quantity, costMinor: taken.costMinor },
    });
    return taken.costMinor;
  });
}
