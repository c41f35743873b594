import { type Actor, requirePermission } from "@/lib/access";
import { endBake, findBake, inTransaction, recordAudit, startBake } from "@/lib/data";
import { Refusal } from "@/lib/errors";

const HOUR_MS = 3_600_000;

/** Says that a part is in the oven. A repeat changes nothing. @throws Refusal not-allowed | not-found */
export async function startReliefBake(actor: Actor, bakeId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const bake = await findBake(db, bakeId);
    if (!bake) throw new Refusal("not-found", "This bake is not in the shop.");
    if (!(await startBake(db, bakeId, now))) return;
    const late = bake.mustStartBy !== null && now > bake.mustStartBy;
    await recordAudit(db, {
      actor,
      at: now,
      action: "bake.started",
      subjectType: "part",
      subjectId: bake.partId,
      detail: { late },
    });
  });
}

/**
 * Says that a bake is over. Refused before its hours are up.
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function endReliefBake(actor: Actor, bakeId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const bake = await findBake(db, bakeId);
    if (!bake) throw new Refusal("not-found", "This bake is not in the shop.");
    if (bake.endedAt) return;
    if (!bake.startedAt) throw new Refusal("conflict", "This bake has not been started.");
    const hours = (now.getTime() - bake.startedAt.getTime()) / HOUR_MS;
    if (hours < bake.hours) {
      throw new Refusal(
        "conflict",
        `It has had ${hours.toFixed(1)} h of ${bake.hours} h. Too short a bake leaves the hydrogen in.`,
      );
    }
    await endBake(db, bakeId, now);
    await recordAudit(db, {
      actor,
      at: now,
      action: "bake.ended",
      subjectType: "part",
      subjectId: bake.partId,
    });
  });
}
