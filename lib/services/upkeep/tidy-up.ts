import {
  deleteEndedSessions,
  deleteOldTries,
  deleteUnansweredInvites,
  inTransaction,
} from "@/lib/data";

/** Ended sessions and unanswered invitations stay visible this long, ms: thirty days. */
const KEPT_MS = 30 * 24 * 3_600_000;

/**
 * Deletes what nobody needs any more: sessions and invitations thirty days after their end, and counted tries once
 * their time is over.
 *
 * @returns how many rows went
 */
export async function tidyUp(now: Date): Promise<number> {
  const moment = new Date(now.getTime() - KEPT_MS);
  return inTransaction(async (db) => {
    const sessions = await deleteEndedSessions(db, moment);
    const invites = await deleteUnansweredInvites(db, moment);
    return sessions + invites + (await deleteOldTries(db, now));
  });
}
