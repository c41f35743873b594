import { type Actor, requirePermission } from "@/lib/access";
import { findTank, inTransaction, insertFeed, recordAudit } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { newSecretToken } from "../secret-token";

/** What a calendar shows. */
export type FeedChoice =
  | { readonly kind: "SHOP" }
  | { readonly kind: "TANK"; readonly tankId: string }
  /** what the person who makes it has to load and pull */
  | { readonly kind: "PERSON"; readonly includesUnassigned: boolean };

/**
 * Makes a calendar address for the person who asks. Whoever knows it reads the calendar without signing in, until it is
 * revoked or the person is kept out.
 *
 * @param name where it is used, so that its owner knows later which one to revoke; may be empty
 * @returns the address's token, which is not kept and cannot be shown again
 * @throws Refusal not-allowed | not-found
 * @example await makeFeed(actor, { kind: "SHOP" }, "my phone", now)
 */
export async function makeFeed(
  actor: Actor,
  choice: FeedChoice,
  name: string,
  now: Date,
): Promise<string> {
  requirePermission(actor, "see-shop");
  return inTransaction(async (db) => {
    const tankId = choice.kind === "TANK" ? choice.tankId : null;
    if (tankId !== null && !(await findTank(db, tankId))) {
      throw new Refusal("not-found", "This tank is not in the shop.");
    }
    const { token, tokenHash } = newSecretToken();
    const id = await insertFeed(db, {
      kind: choice.kind,
      name,
      tankId,
      personId: actor.personId,
      includesUnassigned: choice.kind === "PERSON" && choice.includesUnassigned,
      tokenHash,
      createdAt: now,
    });
    await recordAudit(db, {
      actor,
      at: now,
      action: "feed.made",
      subjectType: "feed",
      subjectId: id,
      detail: { kind: choice.kind, tankId },
    });
    return token;
  });
}
