/** What the first screen of the day asks: jobs promised soon, quotes that ran out. */
import type { Db } from "./client";
import type { PartState } from "./generated/client";

export type DueJob = {
  readonly id: string;
  readonly number: number;
  readonly promisedFor: Date;
  readonly customerName: string;
  readonly parts: readonly { readonly mark: string; readonly state: PartState }[];
};

/** Open jobs that are promised for a day up to `until`, the soonest first. */
export async function listDueJobs(db: Db, until: Date, take: number): Promise<readonly DueJob[]> {
  const jobs = await db.job.findMany({
    where: { state: "OPEN", promisedFor: { lte: until } },
    orderBy: [{ promisedFor: "asc" }, { number: "asc" }],
    take,
    select: {
      id: true,
      number: true,
      promisedFor: true,
      customer: { select: { name: true } },
      parts: { orderBy: { mark: "asc" }, select: { mark: true, state: true } },
    },
  });
  return jobs.flatMap(({ customer, promisedFor, ...job }) =>
    promisedFor ? [{ ...job, promisedFor, customerName: customer.name }] : [],
  );
}

export type LapsedQuote = {
  readonly quoteId: string;
  readonly quoteNumber: number;
  readonly jobId: string;
  readonly jobNumber: number;
  readonly customerName: string;
  readonly validUntil: Date;
};

/** Quotes of open jobs whose newest version ran out unanswered, the last to run out first. */
export async function listLapsedQuotes(db: Db, take: number): Promise<readonly LapsedQuote[]> {
  const versions = await db.quoteVersion.findMany({
    where: {
      state: "EXPIRED",
      quote: {
        job: { state: "OPEN" },
        versions: { none: { state: { in: ["DRAFT", "SENT", "ACCEPTED"] } } },
      },
    },
    orderBy: { validUntil: "desc" },
    distinct: ["quoteId"],
    take,
    select: {
      validUntil: true,
      quote: {
        select: {
          id: true,
          number: true,
          job: { select: { id: true, number: true, customer: { select: { name: true } } } },
        },
      },
    },
  });
  return versions.map(({ quote, validUntil }) => ({
    quoteId: quote.id,
    quoteNumber: quote.number,
    jobId: quote.job.id,
    jobNumber: quote.job.number,
    customerName: quote.job.customer.name,
    validUntil,
  }));
}
