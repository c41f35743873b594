/** Minutes worked on a job, each at the labour rate of its day. */
import type { Db } from "./client";

export type NewLabour = {
  readonly jobId: string;
  readonly partId?: string | undefined;
  readonly runId?: string | undefined;
  readonly personId: string;
  readonly at: Date;
  /** "take in", "load", "pull", "finish", "other" */
  readonly task: string;
  /** above 0, at most a day */
  readonly minutes: number;
  readonly costMinor: number;
  readonly idempotencyKey?: string | undefined;
};

export type LabourRow = {
  readonly id: string;
  readonly at: Date;
  readonly task: string;
  readonly minutes: number;
  readonly costMinor: number;
  readonly personName: string;
  readonly partMark: string | null;
  readonly runNumber: number | null;
};

/**
 * Writes one labour entry. Under an idempotency key a repeat writes nothing and gives the first entry's id.
 *
 * @returns id of the entry
 * @example await recordLabour(db, { jobId, personId, at: now, task: "load", minutes: 15, costMinor: 1125 })
 */
export async function recordLabour(db: Db, labour: NewLabour): Promise<string> {
  const { idempotencyKey = null } = labour;
  const row = {
    ...labour,
    partId: labour.partId ?? null,
    runId: labour.runId ?? null,
    idempotencyKey,
  };
  // The unique key decides between simultaneous repeats: ON CONFLICT DO NOTHING waits for the first to commit.
  const [written] = await db.labourEntry.createManyAndReturn({
    data: [row],
    skipDuplicates: true,
    select: { id: true },
  });
  if (written) return written.id;
  const first = await db.labourEntry.findUniqueOrThrow({
    where: { idempotencyKey: idempotencyKey ?? "" },
    select: { id: true },
  });
  return first.id;
}

/** All labour of one job, oldest first. */
export async function listLabour(db: Db, jobId: string): Promise<readonly LabourRow[]> {
  const rows = await db.labourEntry.findMany({
    where: { jobId },
    orderBy: [{ at: "asc" }, { id: "asc" }],
    include: {
      person: { select: { name: true } },
      part: { select: { mark: true } },
      run: { select: { number: true } },
    },
  });
  return rows.map((row) => ({
    id: row.id,
    at: row.at,
    task: row.task,
    minutes: row.minutes,
    costMinor: row.costMinor,
    personName: row.person.name,
    partMark: row.part?.mark ?? null,
    runNumber: row.run?.number ?? null,
  }));
}
