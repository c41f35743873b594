/** Volts, amps, temperature and level of runs. */
import type { Db } from "./client";
import type { Reading } from "./generated/client";

export type ReadingRow = Reading & { readonly takenBy: { readonly name: string } };
export type NewReading = Omit<Reading, "id">;

/**
 * Writes one reading. Under a key that was used already nothing is written, and the first reading is given.
 *
 * The unique key decides between simultaneous repeats: ON CONFLICT DO NOTHING waits for the first to commit.
 *
 * @returns the reading and whether it was new
 */
export async function insertReading(
  db: Db,
  newReading: NewReading,
): Promise<{ readonly reading: Reading; readonly isNew: boolean }> {
  const [written] = await db.reading.createManyAndReturn({
    data: [newReading],
    skipDuplicates: true,
  });
  if (written) return { reading: written, isNew: true };
  const first = await db.reading.findUniqueOrThrow({
    where: { idempotencyKey: newReading.idempotencyKey },
  });
  return { reading: first, isNew: false };
}

export async function findReadingByKey(db: Db, idempotencyKey: string): Promise<Reading | null> {
  return db.reading.findUnique({ where: { idempotencyKey } });
}

/** Readings of one run, in order of time. */
export async function listReadings(db: Db, runId: string): Promise<readonly ReadingRow[]> {
  return db.reading.findMany({
    where: { runId },
    orderBy: [{ at: "asc" }, { id: "asc" }],
    include: { takenBy: { select: { name: true } } },
  });
}

export async function countReadings(db: Db, runId: string): Promise<number> {
  return db.reading.count({ where: { runId } });
}

/** Readings of several runs at once, each run's in order of time. */
export async function readingsOfRuns(
  db: Db,
  runIds: readonly string[],
): Promise<ReadonlyMap<string, readonly ReadingRow[]>> {
  const rows = await db.reading.findMany({
    where: { runId: { in: [...runIds] } },
    orderBy: [{ at: "asc" }, { id: "asc" }],
    include: { takenBy: { select: { name: true } } },
  });
  const byRun = new Map<string, ReadingRow[]>();
  for (const row of rows) byRun.set(row.runId, [...(byRun.get(row.runId) ?? []), row]);
  return byRun;
}
