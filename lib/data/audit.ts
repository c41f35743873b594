import type { Actor } from "@/lib/access";
import type { Db } from "./client";

export type AuditNote = {
  /** null for the system itself or a customer on a private link */
  readonly actor: Pick<Actor, "personId"> | null;
  readonly at: Date;
  /** subject and past participle: "run.booked" */
  readonly action: string;
  readonly subjectType: string;
  readonly subjectId: string;
  readonly detail?: Readonly<Record<string, string | number | boolean | null>>;
};

/** Writes one line of the audit trail, in the transaction of what it tells of. */
export async function recordAudit(db: Db, note: AuditNote): Promise<void> {
  await db.auditEntry.create({
    data: {
      at: note.at,
      personId: note.actor?.personId ?? null,
      action: note.action,
      subjectType: note.subjectType,
      subjectId: note.subjectId,
      detail: note.detail ?? {},
    },
  });
}
