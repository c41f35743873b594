import { type Actor, requirePermission } from "@/lib/access";
import {
  type CustomerDescription,
  type Db,
  findCustomer,
  findJob,
  inTransaction,
  insertCustomer,
  insertJob,
  type JobListRow,
  type JobRow,
  type JobState,
  listJobs,
  lockJob,
  nextNumber,
  reading,
  recordAudit,
  updateJob,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addDays, calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { type Paged, pageOf, searchTerm } from "../paging";

/** Jobs promised within this many days count as due. */
const DUE_WITHIN_DAYS = 2;

export type JobQuery = {
  readonly which: "open" | "due" | "all";
  readonly search: string;
  readonly page: number;
  readonly customerId?: string;
};

/** Jobs, searched and paged. @throws Refusal not-allowed */
export async function jobList(
  actor: Actor,
  query: JobQuery,
  now: Date,
): Promise<Paged<JobListRow>> {
  requirePermission(actor, "see-shop");
  const { timeZone } = await reading(requireShop);
  const filter = {
    which: query.which,
    search: searchTerm(query.search),
    customerId: query.customerId,
    dueBy: addDays(calendarDay(now, timeZone), DUE_WITHIN_DAYS),
  };
  return pageOf(query.page, (skip, take) => reading((db) => listJobs(db, filter, { skip, take })));
}

/** @throws Refusal not-allowed | not-found */
export async function jobById(actor: Actor, id: string): Promise<JobRow> {
  requirePermission(actor, "see-shop");
  const job = await reading((db) => findJob(db, id));
  if (!job) throw new Refusal("not-found", "There is no such job.");
  return job;
}

export type NewJob = {
  /** Somebody known, or a new customer. */
  readonly customer: { readonly id: string } | CustomerDescription;
  readonly promisedFor: Date | null;
  /** goes before others */
  readonly rush?: boolean;
  readonly notes: string;
};

/**
 * Takes a job in. Its number comes from a counter in the same transaction, so numbers have no gaps.
 *
 * @returns its id
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function takeInJob(actor: Actor, job: NewJob, now: Date): Promise<string> {
  requirePermission(actor, "take-in");
  return inTransaction(async (db) => {
    await checkPromise(db, job.promisedFor, now);
    const customerId = await customerFor(db, job.customer, now);
    const number = await nextNumber(db, "job");
    const id = await insertJob(db, {
      number,
      customerId,
      takenInAt: now,
      takenInById: actor.personId,
      promisedFor: job.promisedFor,
      rush: job.rush ?? false,
      notes: job.notes,
    });
    await auditJob(db, actor, now, "job.taken-in", id, { number });
    return id;
  });
}

async function customerFor(db: Db, customer: NewJob["customer"], now: Date): Promise<string> {
  if (!("id" in customer)) return insertCustomer(db, customer, now);
  if (await findCustomer(db, customer.id)) return customer.id;
  throw new Refusal("not-found", "There is no such customer.", { customerId: "Choose one." });
}

async function checkPromise(db: Db, promisedFor: Date | null, now: Date): Promise<void> {
  if (promisedFor === null) return;
  const { timeZone } = await requireShop(db);
  if (promisedFor < calendarDay(now, timeZone)) {
    throw new Refusal("invalid", "A promise cannot be for a day that is over.", {
      promisedFor: "Choose today or a later day.",
    });
  }
}

/** Changes what the customer was told, whether it goes before others, and the notes. @throws Refusal not-allowed | not-found | invalid */
export async function changeJob(
  actor: Actor,
  id: string,
  change: { readonly promisedFor: Date | null; readonly notes: string; readonly rush?: boolean },
  now: Date,
): Promise<void> {
  requirePermission(actor, "take-in");
  await inTransaction(async (db) => {
    const job = await findJob(db, id);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    const moved = job.promisedFor?.getTime() !== change.promisedFor?.getTime();
    if (moved) await checkPromise(db, change.promisedFor, now);
    await updateJob(db, id, change);
    await auditJob(db, actor, now, "job.changed", id);
  });
}

/**
 * Promises a job for a day, as worked out for one of its parts. A later promise made for another part stands.
 *
 * @returns the day that is promised now, as midnight UTC of its date
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function promiseJob(
  actor: Actor,
  id: string,
  day: Date,
  now: Date,
): Promise<{ readonly promisedFor: Date }> {
  requirePermission(actor, "take-in");
  return inTransaction(async (db) => {
    await requireState(db, id, ["OPEN"]);
    const job = await findJob(db, id);
    const others = (job?.parts.length ?? 0) > 1;
    const before = job?.promisedFor ?? null;
    if (others && before && before > day) return { promisedFor: before };
    await checkPromise(db, day, now);
    await updateJob(db, id, { promisedFor: day });
    await auditJob(db, actor, now, "job.promised", id);
    return { promisedFor: day };
  });
}

/** Locks the job and refuses unless it is in one of the states. @throws Refusal not-found | conflict */
export async function requireState(
  db: Db,
  jobId: string,
  states: readonly JobState[],
): Promise<void> {
  const state = await lockJob(db, jobId);
  if (!state) throw new Refusal("not-found", "There is no such job.");
  if (!states.includes(state)) {
    throw new Refusal("conflict", `This job is ${state.toLowerCase()}. Look at it again.`);
  }
}

/** One line of a job's audit trail. */
export async function auditJob(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, number>> = {},
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "job", subjectId, detail });
}
