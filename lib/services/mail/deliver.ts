import {
  type ClaimedMail,
  claimMail,
  endMail,
  findQuote,
  giveUpLostMails,
  type MailEnd,
  reading,
} from "@/lib/data";
import { requireShop } from "../open-shop";
import { printQuote } from "../quotes/document";
import { mailAddress, oneLine } from "./address";

/** A mail as it is handed to the mail server. */
export type OutgoingMail = {
  readonly from: { readonly name: string; readonly address: string };
  readonly to: string;
  readonly subject: string;
  readonly text: string;
  /** the same for each try, so that a mail that came twice can be known */
  readonly messageId: string;
  readonly attachments: readonly { readonly filename: string; readonly content: Uint8Array }[];
};

/** What became of handing a mail over. */
export type Handed =
  | { readonly kind: "taken" }
  /** surely not taken; `again`: another try may do better */
  | { readonly kind: "refused"; readonly why: string; readonly again: boolean }
  /** the line broke after the text went out: it may have been taken */
  | { readonly kind: "unknown"; readonly why: string };

/** Hands one mail to the mail server. Never throws: what went wrong is part of what it tells. */
export type HandOver = (mail: OutgoingMail) => Promise<Handed>;

/** Minutes until the next try after each that failed; after the last there is none. */
const PAUSES_MIN = [1, 5, 15, 60, 240];
const MINUTE_MS = 60_000;
/** A worker that has had a mail for so long is lost, ms. */
const LOST_MS = 10 * MINUTE_MS;
const MAY_HAVE_ARRIVED =
  "The connection was lost while it was handed over: it may have arrived, so it is not sent again.";

/**
 * Sends what waits, one mail after the other, until nothing is due. Each is claimed by one worker before it is handed
 * over, and one that may have arrived is never sent again.
 *
 * @returns how many were taken by the mail server
 */
export async function deliverMails(handOver: HandOver, clock: () => Date): Promise<number> {
  await reading((db) =>
    giveUpLostMails(db, new Date(clock().getTime() - LOST_MS), MAY_HAVE_ARRIVED),
  );
  let taken = 0;
  for (;;) {
    const mail = await reading((db) => claimMail(db, clock()));
    if (!mail) return taken;
    const end = endOf(await tryOnce(mail, handOver), mail.tries, clock());
    await reading((db) => endMail(db, mail.id, end));
    if (end.state === "SENT") taken += 1;
  }
}

async function tryOnce(mail: ClaimedMail, handOver: HandOver): Promise<Handed> {
  const outgoing = await prepared(mail);
  return "kind" in outgoing ? outgoing : handOver(outgoing);
}

/** The mail as it goes out. A fault here is told beside the mail and tried again: nothing has gone out yet. */
async function prepared(mail: ClaimedMail): Promise<OutgoingMail | Handed> {
  try {
    const shop = await reading(requireShop);
    const address = mailAddress(shop.email);
    if (!address) {
      return { kind: "refused", why: "The shop has no e-mail address to send from.", again: false };
    }
    return {
      from: { name: oneLine(shop.name), address },
      to: mail.toAddress,
      subject: mail.subject,
      text: mail.textBody,
      messageId: `<${mail.id}@${address.slice(address.lastIndexOf("@") + 1)}>`,
      attachments: await attachmentsOf(mail),
    };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { kind: "refused", why: `It could not be prepared: ${why}`, again: true };
  }
}

async function attachmentsOf({ quoteId, attachVersionId }: ClaimedMail) {
  if (attachVersionId === null) return [];
  return reading(async (db) => {
    const quote = await findQuote(db, quoteId);
    const version = quote?.versions.find(({ id }) => id === attachVersionId);
    if (!quote || !version) return [];
    const { name, bytes } = await printQuote(db, quote, version);
    return [{ filename: name, content: bytes }];
  });
}

function endOf(handed: Handed, tries: number, now: Date): MailEnd {
  if (handed.kind === "taken") return { state: "SENT", sentAt: now };
  if (handed.kind === "unknown") {
    return { state: "FAILED", lastError: oneLine(`${MAY_HAVE_ARRIVED} ${handed.why}`) };
  }
  const pause = handed.again ? PAUSES_MIN[tries - 1] : undefined;
  const lastError = oneLine(handed.why);
  if (pause === undefined) return { state: "FAILED", lastError };
  return { state: "WAITING", lastError, nextTryAt: new Date(now.getTime() + pause * MINUTE_MS) };
}
