import { type Actor, requirePermission } from "@/lib/access";
import { inTransaction, insertVerdict, movePart, recordAudit } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { mayGoIn } from "@/lib/treatment";
import { requireChangeable } from "./parts";

/**
 * Lets a part in against the rules, with a reason that stays on record. Findings that are absolute (the part or
 * a person would come to harm for certain) cannot be overruled by anybody.
 *
 * @throws Refusal not-allowed | not-found | conflict | invalid
 */
export async function overruleVerdict(
  actor: Actor,
  partId: string,
  reason: string,
  now: Date,
): Promise<void> {
  requirePermission(actor, "overrule-verdict");
  if (reason.trim().length < 10) {
    throw new Refusal("invalid", "Say why, in a sentence: it stays on record.", {
      reason: "A sentence, please.",
    });
  }
  await inTransaction(async (db) => {
    const part = await requireChangeable(db, partId);
    const { verdict } = part;
    if (!verdict || mayGoIn(verdict.outcome)) {
      throw new Refusal("conflict", "This part may go in as it is.");
    }
    const absolute = verdict.findings.findings.find((finding) => finding.absolute);
    if (absolute) {
      throw new Refusal("not-allowed", `“${absolute.title}” cannot be overruled by anybody.`);
    }
    await insertVerdict(db, {
      partId,
      decidedAt: now,
      decidedById: actor.personId,
      outcome: "ACCEPT_WITH_CONDITIONS",
      findings: verdict.findings,
      overruled: true,
      overruleReason: reason.trim(),
    });
    await movePart(db, partId, ["REFUSED"], "TAKEN_IN");
    await recordAudit(db, {
      actor,
      at: now,
      action: "verdict.overruled",
      subjectType: "part",
      subjectId: partId,
      detail: { reason: reason.trim() },
    });
  });
}
