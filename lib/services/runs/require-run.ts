import type { Actor } from "@/lib/access";
import { type Db, lockRun, recordAudit, type RunRow } from "@/lib/data";
import { Refusal } from "@/lib/errors";

/** A just-made load or pull can be taken back for so long. */
export const UNDO_MINUTES = 5;

/** The run, locked to the end of the transaction. @throws Refusal not-found */
export async function requireRun(db: Db, runId: string): Promise<RunRow> {
  const run = await lockRun(db, runId);
  if (!run) throw new Refusal("not-found", "This run is not in the shop.");
  return run;
}

/** Refuses where a run was changed since a person saw it. @throws Refusal conflict */
export function checkAsSeen(run: RunRow, sequence: number | undefined): void {
  if (sequence === undefined || sequence === run.sequence) return;
  throw new Refusal(
    "conflict",
    `Run ${run.number} was changed by somebody a moment ago. Look at it again.`,
  );
}

/** Whether what was done at `doneAt` can still be taken back. */
export function canUndo(doneAt: Date | null, now: Date): boolean {
  return doneAt !== null && now.getTime() - doneAt.getTime() <= UNDO_MINUTES * 60_000;
}

export const partIdsOf = (run: RunRow): readonly string[] => run.dips.map(({ partId }) => partId);

/** One line of the audit trail about a run. */
export async function auditRun(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  run: RunRow,
  detail: Readonly<Record<string, string | number | boolean | null>> = {},
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "run",
    subjectId: run.id,
    detail: { number: run.number, ...detail },
  });
}
