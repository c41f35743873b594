/** Mails that leave the house: written with what they tell of, claimed and ended by the worker. */
import type { Db } from "./client";
import type { MailKind, MailMessage, MailState } from "./generated/client";

export type { MailKind, MailState };

/** What a list of mails shows; never the text. */
export type MailRow = Pick<
  MailMessage,
  | "id"
  | "kind"
  | "quoteId"
  | "toAddress"
  | "subject"
  | "state"
  | "tries"
  | "lastError"
  | "createdAt"
  | "nextTryAt"
  | "sentAt"
>;

export type NewMail = Pick<
  MailMessage,
  | "kind"
  | "quoteId"
  | "attachVersionId"
  | "toAddress"
  | "subject"
  | "textBody"
  | "createdAt"
  | "idempotencyKey"
>;

/** A mail that this worker alone has. */
export type ClaimedMail = Pick<
  MailMessage,
  "id" | "quoteId" | "attachVersionId" | "toAddress" | "subject" | "textBody" | "tries"
>;

/** Writes a mail to be sent; a second one of the same key is none. */
export async function insertMail(db: Db, mail: NewMail): Promise<void> {
  await db.mailMessage.createMany({
    data: [{ ...mail, nextTryAt: mail.createdAt }],
    skipDuplicates: true,
  });
}

/**
 * Claims the mail that has waited longest, for the caller alone: of several workers each gets another one. It stays
 * claimed until `endMail`, whatever becomes of the worker, since a mail that may have gone out is not sent again.
 */
export async function claimMail(db: Db, now: Date): Promise<ClaimedMail | null> {
  const [row] = await db.$queryRaw<ClaimedMail[]>`
    UPDATE "mail_message" SET "state" = 'SENDING', "claimed_at" = ${now}, "tries" = "tries" + 1
     WHERE "id" = (SELECT "id" FROM "mail_message"
                    WHERE "state" = 'WAITING' AND "next_try_at" <= ${now}
                    ORDER BY "next_try_at", "id" LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING "id", "quote_id" AS "quoteId", "attach_version_id" AS "attachVersionId", "to_address" AS "toAddress",
              "subject", "text_body" AS "textBody", "tries"`;
  return row ?? null;
}

export type MailEnd =
  | { readonly state: "SENT"; readonly sentAt: Date }
  | { readonly state: "FAILED"; readonly lastError: string }
  /** to be tried again */
  | { readonly state: "WAITING"; readonly lastError: string; readonly nextTryAt: Date };

/** Writes how a claimed mail ended. Its text goes with it unless it is tried again. */
export async function endMail(db: Db, id: string, end: MailEnd): Promise<void> {
  await db.mailMessage.updateMany({
    where: { id, state: "SENDING" },
    data: { ...end, claimedAt: null, ...(end.state !== "WAITING" && { textBody: "" }) },
  });
}

/** Gives up mails whose worker was lost while it had them: nobody knows whether they went out. @returns how many */
export async function giveUpLostMails(db: Db, claimedBefore: Date, why: string): Promise<number> {
  const { count } = await db.mailMessage.updateMany({
    where: { state: "SENDING", claimedAt: { lt: claimedBefore } },
    data: { state: "FAILED", claimedAt: null, textBody: "", lastError: why },
  });
  return count;
}

/** Drops what still waits of these kinds about a quote; what a worker has already goes out. @returns how many */
export async function dropWaitingMails(
  db: Db,
  quoteId: string,
  kinds: readonly MailKind[],
): Promise<number> {
  const { count } = await db.mailMessage.updateMany({
    where: { quoteId, kind: { in: [...kinds] }, state: "WAITING" },
    data: { state: "DROPPED", textBody: "" },
  });
  return count;
}

/** The mails about some quotes, newest first, at most `take`. */
export async function mailsOfQuotes(
  db: Db,
  quoteIds: readonly string[],
  take: number,
): Promise<readonly MailRow[]> {
  return db.mailMessage.findMany({
    where: { quoteId: { in: [...quoteIds] } },
    orderBy: [{ createdAt: "desc" }, { id: "desc" }],
    take,
    select: {
      id: true,
      kind: true,
      quoteId: true,
      toAddress: true,
      subject: true,
      state: true,
      tries: true,
      lastError: true,
      createdAt: true,
      nextTryAt: true,
      sentAt: true,
    },
  });
}

/**
 * Asks the worker to look at the mails once this transaction is committed; one such ask waits at a time. Where no
 * worker has ever run there is no queue to ask, and the first worker looks by itself.
 */
export async function wakeMailer(db: Db): Promise<void> {
  const [queue] = await db.$queryRaw<{ there: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM pg_proc AS p JOIN pg_namespace AS n ON n.oid = p.pronamespace
                    WHERE n.nspname = 'graphile_worker' AND p.proname = 'add_job') AS "there"`;
  if (!queue?.there) return;
  await db.$executeRaw`SELECT graphile_worker.add_job('sendMail', job_key := 'sendMail')`;
}
