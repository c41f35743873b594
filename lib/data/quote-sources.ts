/** What a quote is made from: a job with its parts, their newest verdicts and plans. */
import type { SuitabilityVerdict, TreatmentPlan } from "@/lib/treatment";
import type { Db } from "./client";
import type { Goal, JobState, PartState, Prisma, VerdictOutcome } from "./generated/client";

export type QuotablePlan = {
  readonly version: number;
  readonly areaM2: number;
  readonly solutionL: number;
  readonly saltG: number;
  readonly hoursP50: number;
  readonly hoursP90: number;
  readonly chargeAh: number;
  readonly anodeLossG: number;
  readonly energyKwh: number;
  readonly dipCount: number;
  readonly result: TreatmentPlan;
};

export type QuotablePart = {
  readonly id: string;
  readonly mark: string;
  readonly description: string;
  readonly quantity: number;
  readonly state: PartState;
  readonly goal: Goal;
  /** codes of lib/treatment: what is on it beside rust */
  readonly coatings: readonly string[];
  /** when its load is booked to begin; null while it is not */
  readonly bookedFrom: Date | null;
  readonly verdict: {
    readonly outcome: VerdictOutcome;
    readonly overruled: boolean;
    readonly findings: SuitabilityVerdict["findings"];
  } | null;
  /** the newest; null while there is none */
  readonly plan: QuotablePlan | null;
};

export type QuotableJob = {
  readonly id: string;
  readonly number: number;
  readonly state: JobState;
  readonly promisedFor: Date | null;
  readonly customer: {
    readonly name: string;
    readonly address: string;
    readonly email: string;
    /** how this customer is taxed; empty: as usual */
    readonly taxCode: string;
  };
  readonly parts: readonly QuotablePart[];
};

const PART = {
  verdicts: { orderBy: { decidedAt: "desc" }, take: 1 },
  plans: { orderBy: { version: "desc" }, take: 1 },
  dips: {
    where: { run: { state: "PLANNED" } },
    orderBy: { run: { startsAt: "asc" } },
    take: 1,
    select: { run: { select: { startsAt: true } } },
  },
} as const satisfies Prisma.PartInclude;

/** The job with its parts by mark; null where there is none. */
export async function findQuotableJob(db: Db, jobId: string): Promise<QuotableJob | null> {
  const job = await db.job.findUnique({
    where: { id: jobId },
    include: {
      customer: { select: { name: true, address: true, email: true, taxCode: true } },
      parts: { orderBy: { mark: "asc" }, include: PART },
    },
  });
  if (!job) return null;
  const { id, number, state, promisedFor, customer } = job;
  return { id, number, state, promisedFor, customer, parts: job.parts.map(asQuotablePart) };
}

function asQuotablePart(part: Prisma.PartGetPayload<{ include: typeof PART }>): QuotablePart {
  const [verdict] = part.verdicts;
  const [plan] = part.plans;
  return {
    id: part.id,
    mark: part.mark,
    description: part.description,
    quantity: part.quantity,
    state: part.state,
    goal: part.goal,
    coatings: part.coatings,
    bookedFrom: part.dips[0]?.run.startsAt ?? null,
    verdict: verdict
      ? {
          outcome: verdict.outcome,
          overruled: verdict.overruled,
          findings: findingsIn(verdict.findings),
        }
      : null,
    // The JSON columns hold what lib/treatment made, stored whole.
    plan: plan ? { ...plan, result: plan.result as unknown as TreatmentPlan } : null,
  };
}

function findingsIn(stored: Prisma.JsonValue): SuitabilityVerdict["findings"] {
  const verdict = stored as unknown as Partial<SuitabilityVerdict> | null;
  return verdict?.findings ?? [];
}
