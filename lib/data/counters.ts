import type { Db } from "./client";

/**
 * Takes the next number of a series without gaps. The row lock of the UPDATE is held to the end of the
 * transaction, so simultaneous callers line up and a rollback gives the number back.
 *
 * @example const number = await nextNumber(db, "job")
 */
export async function nextNumber(
  db: Db,
  series: "job" | "quote" | "run" | "purchase" | "statement" | "credit-note",
): Promise<number> {
  const row = await db.counter.update({
    where: { name: series },
    data: { value: { increment: 1 } },
    select: { value: true },
  });
  return row.value;
}
