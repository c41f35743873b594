/** Quotes, their versions and lines, and the private link that opens one of them. */
import type { Db } from "./client";
import type { Prisma, QuoteState } from "./generated/client";

export type { QuoteState };

export type QuoteLineRow = {
  readonly position: number;
  readonly partId: string | null;
  readonly label: string;
  readonly detail: string;
  readonly netMinor: number;
  readonly taxMinor: number;
};

export type QuoteVersionRow = {
  readonly id: string;
  readonly quoteId: string;
  readonly version: number;
  readonly state: QuoteState;
  readonly madeAt: Date;
  readonly sentAt: Date | null;
  /** the last day it holds, as midnight UTC */
  readonly validUntil: Date;
  readonly currency: string;
  readonly rush: boolean;
  readonly discountPercent: number;
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
  readonly taxName: string;
  readonly taxPercent: number;
  /** the shop's own lines with their working, as it was stored */
  readonly estimate: unknown;
  readonly terms: string;
  readonly messageToCustomer: string;
  readonly answeredAt: Date | null;
  readonly answeredName: string;
  readonly answerNote: string;
  readonly lines: readonly QuoteLineRow[];
};

export type QuoteRow = {
  readonly id: string;
  readonly number: number;
  readonly jobId: string;
  readonly createdAt: Date;
  readonly hasLink: boolean;
  readonly linkExpiresAt: Date | null;
  readonly linkRevokedAt: Date | null;
  /** newest first */
  readonly versions: readonly QuoteVersionRow[];
};

/** What is stored of a version when it is written; the database keeps the rest. */
export type NewQuoteVersion = Pick<
  QuoteVersionRow,
  | "currency"
  | "rush"
  | "discountPercent"
  | "netMinor"
  | "taxMinor"
  | "totalMinor"
  | "taxName"
  | "taxPercent"
  | "terms"
  | "messageToCustomer"
  | "validUntil"
  | "madeAt"
> & {
  /** plain data, stored as JSON */
  readonly estimate: object;
  readonly lines: readonly Omit<QuoteLineRow, "position">[];
};

const WITH_VERSIONS = {
  versions: {
    orderBy: { version: "desc" },
    include: { lines: { orderBy: { position: "asc" } } },
  },
} as const satisfies Prisma.QuoteInclude;

type QuoteWithVersions = Prisma.QuoteGetPayload<{ include: typeof WITH_VERSIONS }>;

/** The quotes of one job, newest first. */
export async function quotesOfJob(db: Db, jobId: string): Promise<readonly QuoteRow[]> {
  const quotes = await db.quote.findMany({
    where: { jobId },
    orderBy: { number: "desc" },
    include: WITH_VERSIONS,
  });
  return quotes.map(asQuoteRow);
}

export async function findQuote(db: Db, quoteId: string): Promise<QuoteRow | null> {
  const quote = await db.quote.findUnique({ where: { id: quoteId }, include: WITH_VERSIONS });
  return quote && asQuoteRow(quote);
}

/** The quote whose link is good at `now`; expired, revoked and unknown links are all the same nothing. */
export async function findQuoteByLink(
  db: Db,
  linkTokenHash: string,
  now: Date,
): Promise<QuoteRow | null> {
  const quote = await db.quote.findFirst({
    where: { linkTokenHash, linkRevokedAt: null, linkExpiresAt: { gt: now } },
    include: WITH_VERSIONS,
  });
  return quote && asQuoteRow(quote);
}

/** Lines up everybody who writes a quote of this job: two drafts at once would otherwise take the same version. */
export async function lockJobForQuote(db: Db, jobId: string): Promise<boolean> {
  const rows = await db.$queryRaw<unknown[]>`
    SELECT "id" FROM "job" WHERE "id" = ${jobId}::uuid FOR NO KEY UPDATE`;
  return rows.length === 1;
}

export async function insertQuote(
  db: Db,
  quote: { readonly number: number; readonly jobId: string; readonly createdAt: Date },
): Promise<string> {
  const row = await db.quote.create({ data: quote, select: { id: true } });
  return row.id;
}

/** Writes a version as a draft. @returns its id */
export async function insertQuoteVersion(
  db: Db,
  quoteId: string,
  version: number,
  content: NewQuoteVersion,
): Promise<string> {
  const { lines, ...columns } = content;
  const row = await db.quoteVersion.create({
    data: {
      ...columns,
      estimate: columns.estimate,
      quoteId,
      version,
      lines: { create: lines.map((line, position) => ({ ...line, position })) },
    },
    select: { id: true },
  });
  return row.id;
}

/** Rewrites a draft with its lines; false, and nothing changed, where it is no longer a draft. */
export async function rewriteDraft(
  db: Db,
  versionId: string,
  content: NewQuoteVersion,
): Promise<boolean> {
  const { lines, ...columns } = content;
  const { count } = await db.quoteVersion.updateMany({
    where: { id: versionId, state: "DRAFT" },
    data: { ...columns, estimate: columns.estimate },
  });
  if (count !== 1) return false;
  await db.quoteLine.deleteMany({ where: { quoteVersionId: versionId } });
  await db.quoteLine.createMany({
    data: lines.map((line, position) => ({ ...line, position, quoteVersionId: versionId })),
  });
  return true;
}

export type VersionMove = {
  readonly state: QuoteState;
  readonly sentAt?: Date;
  readonly validUntil?: Date;
  readonly answeredAt?: Date;
  readonly answeredName?: string;
  readonly answerNote?: string;
};

/**
 * Moves a version to another state if it is still in `from` (and, where given, still valid on a day).
 * One conditional UPDATE whose count is checked: of two people who answer, withdraw or expire it at once, one finds the
 * row changed.
 *
 * @returns whether it moved
 */
export async function moveQuoteVersion(
  db: Db,
  versionId: string,
  from: QuoteState,
  move: VersionMove,
  validOn?: Date,
): Promise<boolean> {
  const { count } = await db.quoteVersion.updateMany({
    where: { id: versionId, state: from, ...(validOn && { validUntil: { gte: validOn } }) },
    data: move,
  });
  return count === 1;
}

/** Gives the quote a new link; the one before stops working. Only the hash is kept. */
export async function setQuoteLink(
  db: Db,
  quoteId: string,
  link: { readonly tokenHash: string; readonly expiresAt: Date },
): Promise<void> {
  await db.quote.update({
    where: { id: quoteId },
    data: { linkTokenHash: link.tokenHash, linkExpiresAt: link.expiresAt, linkRevokedAt: null },
  });
}

export async function extendQuoteLink(db: Db, quoteId: string, expiresAt: Date): Promise<void> {
  await db.quote.update({ where: { id: quoteId }, data: { linkExpiresAt: expiresAt } });
}

/** @returns whether there was a link to revoke */
export async function revokeQuoteLink(db: Db, quoteId: string, at: Date): Promise<boolean> {
  const { count } = await db.quote.updateMany({
    where: { id: quoteId, linkTokenHash: { not: null }, linkRevokedAt: null },
    data: { linkRevokedAt: at },
  });
  return count === 1;
}

function asQuoteRow(quote: QuoteWithVersions): QuoteRow {
  const { linkTokenHash, ...row } = quote;
  return { ...row, hasLink: linkTokenHash !== null };
}
