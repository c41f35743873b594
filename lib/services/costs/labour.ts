import { type Actor, may, requirePermission } from "@/lib/access";
import {
  findCostedJob,
  inTransaction,
  type LabourRow,
  listLabour,
  reading,
  recordAudit,
  recordLabour,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundHalfEven } from "@/lib/money";
import { labourRate, type LabourTask } from "@/lib/pricing";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { ratesOn } from "../rates";

export type ExtraLabour = {
  readonly jobId: string;
  readonly partId?: string | undefined;
  readonly task: LabourTask;
  /** above 0, at most a day */
  readonly minutes: number;
  readonly idempotencyKey?: string | undefined;
};

const MINUTES_A_DAY = 1440;

/**
 * Writes down minutes that the signed-in person worked on a job beside its runs, at today's labour rate.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function recordExtraLabour(
  actor: Actor,
  labour: ExtraLabour,
  now: Date,
): Promise<void> {
  requireLabourPermission(actor);
  if (!(labour.minutes > 0 && labour.minutes <= MINUTES_A_DAY)) {
    throw new Refusal("invalid", "Minutes are from 1 to a day.", {
      minutes: `Enter 1 to ${MINUTES_A_DAY} min.`,
    });
  }
  await inTransaction(async (db) => {
    const job = await findCostedJob(db, labour.jobId);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    if (labour.partId && !job.parts.some(({ id }) => id === labour.partId)) {
      throw new Refusal("not-found", "This part is not one of the job.");
    }
    const shop = await requireShop(db);
    const rates = await ratesOn(db, shop, calendarDay(now, shop.timeZone));
    const costMinor = roundHalfEven((labourRate(rates, labour.task) * labour.minutes) / 60);
    await recordLabour(db, { ...labour, personId: actor.personId, at: now, costMinor });
    await recordAudit(db, {
      actor,
      at: now,
      action: "labour.recorded",
      subjectType: "job",
      subjectId: job.id,
      detail: { minutes: labour.minutes, task: labour.task },
    });
  });
}

export type JobLabour = {
  readonly job: NonNullable<Awaited<ReturnType<typeof findCostedJob>>>;
  /** oldest first, without money */
  readonly labour: readonly Omit<LabourRow, "costMinor">[];
};

/** The minutes written down for a job, for people who do the work. @throws Refusal not-allowed | not-found */
export async function jobLabour(actor: Actor, jobId: string): Promise<JobLabour> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const job = await findCostedJob(db, jobId);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    const labour = (await listLabour(db, jobId)).map(({ costMinor: _, ...entry }) => entry);
    return { job, labour };
  });
}

/** Those who work runs write their minutes down, and those who keep the costs. */
function requireLabourPermission(actor: Actor): void {
  if (!may(actor, "see-money")) requirePermission(actor, "work-runs");
}
