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

/** The newest change of the whole board that was not taken back; null when there is none. */
export async function lastBoardChange(
  db: Db,
): Promise<{ readonly at: Date; readonly by: string; readonly detail: unknown } | null> {
  const line = await db.auditEntry.findFirst({
    where: { action: { in: ["board.changed", "board.taken-back"] } },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    select: { at: true, action: true, detail: true, person: { select: { name: true } } },
  });
  if (line?.action !== "board.changed") return null;
  return { at: line.at, by: line.person?.name ?? "", detail: line.detail };
}
