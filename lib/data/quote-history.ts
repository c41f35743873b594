/** What happened to a quote, from the audit trail: sent, opened again, asked about, answered. */
import type { Db } from "./client";
import type { Prisma } from "./generated/client";

export type QuoteEvent = {
  readonly id: string;
  readonly at: Date;
  readonly action: string;
  /** null for the customer and for the clock */
  readonly personName: string | null;
  readonly detail: Readonly<Record<string, unknown>>;
};

/** Newest first, at most `take`. */
export async function quoteEvents(
  db: Db,
  quoteIds: readonly string[],
  take: number,
): Promise<readonly QuoteEvent[]> {
  const rows = await db.auditEntry.findMany({
    where: { subjectType: "quote", subjectId: { in: [...quoteIds] } },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    take,
    include: { person: { select: { name: true } } },
  });
  return rows.map((row) => ({
    id: row.id,
    at: row.at,
    action: row.action,
    personName: row.person?.name ?? null,
    detail: asRecord(row.detail),
  }));
}

function asRecord(detail: Prisma.JsonValue): Readonly<Record<string, unknown>> {
  return typeof detail === "object" && detail !== null && !Array.isArray(detail) ? detail : {};
}

/** How often something was written about a quote since a moment. */
export async function countQuoteEvents(
  db: Db,
  quoteId: string,
  action: string,
  since: Date,
): Promise<number> {
  return db.auditEntry.count({
    where: { subjectType: "quote", subjectId: quoteId, action, at: { gte: since } },
  });
}
