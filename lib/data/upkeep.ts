/** What gets old: quotes past their day, sessions, invitations and counted tries that nobody needs any more. */
import type { Db } from "./client";

/**
 * Marks the sent quotes whose last valid day is before `today` as expired.
 *
 * @param today calendar day of the shop, as midnight UTC
 * @returns ids of the quotes whose version expired now
 */
export async function expireQuoteVersions(db: Db, today: Date): Promise<readonly string[]> {
  // One conditional UPDATE: a customer who accepts at the same moment either is first, and the row is no longer SENT,
  // or finds it expired.
  const expired = await db.quoteVersion.updateManyAndReturn({
    where: { state: "SENT", validUntil: { lt: today } },
    data: { state: "EXPIRED" },
    select: { quoteId: true },
  });
  return expired.map((version) => version.quoteId);
}

/** Deletes sessions that ended, by time or by signing out, before `moment`. @returns how many */
export async function deleteEndedSessions(db: Db, moment: Date): Promise<number> {
  const deleted = await db.sessionRecord.deleteMany({
    where: { OR: [{ expiresAt: { lt: moment } }, { revokedAt: { lt: moment } }] },
  });
  return deleted.count;
}

/** Deletes invitations that ran out unanswered before `moment`. @returns how many */
export async function deleteUnansweredInvites(db: Db, moment: Date): Promise<number> {
  const deleted = await db.invite.deleteMany({
    where: { acceptedAt: null, expiresAt: { lt: moment } },
  });
  return deleted.count;
}

/** Deletes counted tries whose time is over. @returns how many */
export async function deleteOldTries(db: Db, now: Date): Promise<number> {
  const deleted = await db.rateLimit.deleteMany({ where: { expire: { lt: now.getTime() } } });
  return deleted.count;
}
