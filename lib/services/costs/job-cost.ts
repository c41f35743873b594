import { type Actor, requirePermission } from "@/lib/access";
import {
  chargedNetOfJob,
  chosenOption,
  type CostedJob,
  type Db,
  findCostedJob,
  listCostedJobs,
  quotesOfJob,
  type QuoteOptionRow,
  reading,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type JobCost, jobCost } from "@/lib/pricing";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { estimateOf } from "../quotes";
import { ratesOn } from "../rates";
import { jobRecords, type JobRecords } from "./actuals";
import { type Cause, causesOf } from "./causes";

/** Where the estimate beside the actual cost comes from. */
export type EstimateOrigin = "accepted" | "not accepted" | "none";

export type JobCostView = JobRecords & {
  readonly job: CostedJob;
  readonly cost: JobCost;
  readonly estimate: EstimateOrigin;
  /** quotes that the estimate adds up, by number and version */
  readonly quotes: readonly {
    readonly number: number;
    readonly version: number;
    /** the option's name, where there was more than one */
    readonly option: string | null;
  }[];
  /** false while a part of it is still to be done: the cost is then what it took so far */
  readonly settled: boolean;
  /** whether the price is what was charged, credits taken off, rather than what was quoted */
  readonly charged: boolean;
  /** each difference, laid to who and what made it */
  readonly causes: readonly Cause[];
  readonly shop: ShopRow;
};

/**
 * What a job took, or took so far, against its quote.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function jobCostView(actor: Actor, jobId: string, now: Date): Promise<JobCostView> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const job = await findCostedJob(db, jobId);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    return costOf(db, await requireShop(db), job, now);
  });
}

/** One line of the list of jobs by cost. */
export type JobMargin = Pick<JobCostView, "job" | "cost" | "estimate" | "settled" | "charged">;

/**
 * Cost and margin of each job that was not cancelled, newest first.
 *
 * @throws Refusal not-allowed
 */
export async function jobMargins(
  actor: Actor,
  window: { readonly skip: number; readonly take: number },
  now: Date,
): Promise<{
  readonly jobs: readonly JobMargin[];
  readonly total: number;
  readonly shop: ShopRow;
}> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const shop = await requireShop(db);
    const { jobs, total } = await listCostedJobs(db, window);
    const costed: JobMargin[] = [];
    // One after another: a page of jobs must not take every connection of the pool.
    for (const job of jobs) costed.push(await costOf(db, shop, job, now));
    return { jobs: costed, total, shop };
  });
}

async function costOf(db: Db, shop: ShopRow, job: CostedJob, now: Date): Promise<JobCostView> {
  const rates = await ratesOn(db, shop, calendarDay(job.closedAt ?? now, shop.timeZone));
  const [records, offers] = await Promise.all([
    jobRecords(db, job.id, { rates, timeZone: shop.timeZone, now }),
    offersFor(db, job.id),
  ]);
  const estimate = offers.options.flatMap((option) => estimateOf(option)?.priced.costs ?? []);
  const quotedNet =
    offers.origin === "accepted"
      ? offers.options.reduce((total, { netMinor }) => total + netMinor, 0)
      : null;
  // What was really charged counts, once something was.
  const charged = await chargedNetOfJob(db, job.id);
  const cost = jobCost(
    estimate,
    records.actuals,
    rates,
    charged ?? quotedNet,
    charged === null ? "quoted" : "charged",
  );
  return {
    ...records,
    job,
    cost,
    estimate: offers.origin,
    quotes: offers.quotes,
    settled: isSettled(job),
    charged: charged !== null,
    causes: estimate.length > 0 ? causesOf({ job, cost, estimate, records, rates }) : [],
    shop,
  };
}

type Offers = {
  readonly origin: EstimateOrigin;
  /** the accepted ones, or those that are led with */
  readonly options: readonly QuoteOptionRow[];
  readonly quotes: JobCostView["quotes"];
};

/** The accepted versions of a job's quotes; before any is accepted, the newest offer or draft. */
async function offersFor(db: Db, jobId: string): Promise<Offers> {
  const quotes = await quotesOfJob(db, jobId);
  const numbered = quotes.flatMap((quote) =>
    quote.versions.map((version) => ({ number: quote.number, version })),
  );
  const accepted = numbered.filter(({ version }) => version.state === "ACCEPTED");
  const newest = numbered.filter(({ version }) => version.state !== "SUPERSEDED").slice(0, 1);
  const chosen = accepted.length > 0 ? accepted : newest;
  return {
    origin: accepted.length > 0 ? "accepted" : chosen.length > 0 ? "not accepted" : "none",
    options: chosen.map(({ version }) => chosenOption(version)),
    quotes: chosen.map(({ number, version }) => ({
      number,
      version: version.version,
      option: version.options.length > 1 ? chosenOption(version).name : null,
    })),
  };
}

function isSettled(job: CostedJob): boolean {
  return (
    job.state !== "OPEN" ||
    (job.parts.length > 0 &&
      job.parts.every(({ state }) => ["FINISHED", "HANDED_BACK", "REFUSED"].includes(state)))
  );
}
