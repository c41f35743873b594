/** One line of the ledger with what a correction of it must know. */
import type { Db } from "./client";
import type { EntryKind } from "./generated/client";

export type EntryRow = {
  readonly id: string;
  readonly itemId: string;
  readonly lotId: string;
  readonly at: Date;
  readonly kind: EntryKind;
  /** signed: in is positive */
  readonly quantity: number;
  readonly costMinor: number;
  readonly runId: string | null;
  readonly jobId: string | null;
  readonly tankId: string | null;
  readonly note: string;
  readonly correctsId: string | null;
  readonly corrected: boolean;
};

export async function findEntry(db: Db, entryId: string): Promise<EntryRow | null> {
  const row = await db.ledgerEntry.findUnique({
    where: { id: entryId },
    include: { correctedBy: { select: { id: true } } },
  });
  if (!row) return null;
  const { correctedBy, ...entry } = row;
  return { ...entry, quantity: entry.quantity.toNumber(), corrected: correctedBy !== null };
}
