/** Quotes, their versions and lines, and the private link that opens one of them. */
import type { TaxTotal } from "@/lib/pricing";
import type { Db } from "./client";
import type { Goal, Prisma, QuoteState } from "./generated/client";

export type { QuoteState };

export type QuoteLineRow = {
  readonly position: number;
  readonly partId: string | null;
  readonly label: string;
  readonly detail: string;
  readonly netMinor: number;
  readonly taxMinor: number;
  /** tax rule of its rate card */
  readonly taxCode: string;
};

/** One way of doing the job, with its price; a version offers one or several side by side. */
export type QuoteOptionRow = {
  readonly id: string;
  /** 0 is the one that the shop leads with */
  readonly position: number;
  readonly name: string;
  /** what is done to every part; null: as each part is planned */
  readonly goal: Goal | null;
  readonly rush: boolean;
  readonly discountPercent: number;
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
  /** the total if the hours were the shortest and the longest expected */
  readonly lowMinor: number;
  readonly highMinor: number;
  /** asked before work begins, 0 to the total */
  readonly depositMinor: number;
  readonly pricesIncludeTax: boolean;
  readonly taxes: readonly TaxTotal[];
  /** the shop's own lines with their working, as it was stored */
  readonly estimate: unknown;
  readonly lines: readonly QuoteLineRow[];
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
  readonly depositPercent: number;
  readonly terms: string;
  readonly messageToCustomer: string;
  readonly answeredAt: Date | null;
  readonly answeredName: string;
  readonly answerNote: string;
  /** none but where it is accepted */
  readonly acceptedOptionId: string | null;
  /** one or more, the leading one first */
  readonly options: readonly QuoteOptionRow[];
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
  "currency" | "depositPercent" | "terms" | "messageToCustomer" | "validUntil" | "madeAt"
> & {
  /** one or more, in the order in which they are shown */
  readonly options: readonly NewQuoteOption[];
};

export type NewQuoteOption = Omit<
  QuoteOptionRow,
  "id" | "position" | "taxes" | "estimate" | "lines"
> & {
  readonly taxes: readonly TaxTotal[];
  /** plain data, stored as JSON */
  readonly estimate: object;
  readonly lines: readonly Omit<QuoteLineRow, "position">[];
};

const WITH_VERSIONS = {
  versions: {
    orderBy: { version: "desc" },
    include: {
      options: {
        orderBy: { position: "asc" },
        include: { lines: { orderBy: { position: "asc" } } },
      },
    },
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
  const { options, ...columns } = content;
  const row = await db.quoteVersion.create({
    data: { ...columns, quoteId, version, options: { create: optionRows(options) } },
    select: { id: true },
  });
  return row.id;
}

/** Rewrites a draft with its options; false, and nothing changed, where it is no longer a draft. */
export async function rewriteDraft(
  db: Db,
  versionId: string,
  content: NewQuoteVersion,
): Promise<boolean> {
  const { options, ...columns } = content;
  const { count } = await db.quoteVersion.updateMany({
    where: { id: versionId, state: "DRAFT" },
    data: columns,
  });
  if (count !== 1) return false;
  await db.quoteOption.deleteMany({ where: { quoteVersionId: versionId } });
  await db.quoteVersion.update({
    where: { id: versionId },
    data: { options: { create: optionRows(options) } },
  });
  return true;
}

function optionRows(options: readonly NewQuoteOption[]) {
  return options.map(({ lines, taxes, ...option }, position) => ({
    ...option,
    taxes: [...taxes],
    position,
    lines: { create: lines.map((line, place) => ({ ...line, position: place })) },
  }));
}

export type VersionMove = {
  readonly state: QuoteState;
  readonly sentAt?: Date;
  readonly validUntil?: Date;
  readonly answeredAt?: Date;
  readonly answeredName?: string;
  readonly answerNote?: string;
  readonly acceptedOptionId?: string;
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
  const { linkTokenHash, versions, ...row } = quote;
  return { ...row, versions: versions.map(asVersionRow), hasLink: linkTokenHash !== null };
}

function asVersionRow(version: QuoteWithVersions["versions"][number]): QuoteVersionRow {
  // The JSON column holds what lib/pricing made, stored whole.
  const options = version.options.map((option) => ({
    ...option,
    taxes: option.taxes as unknown as readonly TaxTotal[],
  }));
  return { ...version, options };
}

/**
 * The option that a version stands for: the accepted one, before that the one that the shop leads with.
 *
 * @throws RangeError if the version has no options, which no stored one can be
 */
export function chosenOption(
  version: Pick<QuoteVersionRow, "options" | "acceptedOptionId">,
): QuoteOptionRow {
  const accepted = version.options.find(({ id }) => id === version.acceptedOptionId);
  const chosen = accepted ?? version.options[0];
  if (!chosen) throw new RangeError("a version of a quote has at least one option");
  return chosen;
}
