import { type Actor, may, requirePermission } from "@/lib/access";
import { endFeed, inTransaction, recordAudit } from "@/lib/data";
import { Refusal } from "@/lib/errors";

/**
 * Ends a calendar address at once: one's own, or anybody's for those who manage people. Calendars that still ask for it
 * are told that there is nothing.
 *
 * @throws Refusal not-allowed | not-found for an address that is somebody else's, ended or unknown
 */
export async function revokeFeed(actor: Actor, feedId: string, now: Date): Promise<void> {
  requirePermission(actor, "see-shop");
  const whose = may(actor, "manage-people") ? {} : { personId: actor.personId };
  await inTransaction(async (db) => {
    if (!(await endFeed(db, feedId, now, whose))) {
      throw new Refusal("not-found", "This address no longer works already.");
    }
    await recordAudit(db, {
      actor,
      at: now,
      action: "feed.revoked",
      subjectType: "feed",
      subjectId: feedId,
    });
  });
}
