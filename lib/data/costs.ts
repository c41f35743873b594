/** What a job took, as the shop wrote it down: runs with their dips, wear and stock. */
import type { Db } from "./client";
import type { ItemKind, JobState, PartState, Plan, Prisma, RunState } from "./generated/client";

/** A job as cost lists name it. */
export type CostedJob = {
  readonly id: string;
  readonly number: number;
  readonly state: JobState;
  readonly takenInAt: Date;
  readonly closedAt: Date | null;
  readonly customerName: string;
  readonly parts: readonly CostedPart[];
};

export type CostedPart = {
  readonly id: string;
  readonly mark: string;
  readonly description: string;
  readonly quantity: number;
  readonly state: PartState;
  /** of its newest plan; null while there is none */
  readonly plan: { readonly areaM2: number; readonly dipCount: number } | null;
};

/** One run that held parts of the job, and the job's share of it. */
export type CostedRun = {
  readonly id: string;
  readonly number: number;
  readonly state: RunState;
  readonly tankId: string;
  readonly tankName: string;
  readonly loadedAt: Date;
  readonly pulledAt: Date | null;
  /** 0 to 1: the charge shares of the job's dips over those of all dips of the run */
  readonly jobShare: number;
  readonly partMarks: readonly string[];
  readonly chargeAh: number | null;
  readonly energyKwh: number | null;
  readonly expectedCurrentA: number;
  readonly wear: readonly {
    anodeId: string;
    anodeName: string;
    lossG: number;
    costMinor: number;
  }[];
  /** what the plans of the job's dips expected of this run */
  readonly planned: PlannedOfRun;
  /** null before a bath is known */
  readonly bath: CostedBath | null;
};

/** One dip's worth of the plans of the job's parts in a run, added up; hours are the longest. */
export type PlannedOfRun = {
  readonly hoursP50: number;
  readonly hoursP90: number;
  readonly chargeAh: number;
  readonly energyKwh: number;
  readonly anodeLossG: number;
};

/** The bath a run went through, with what it passed altogether. */
export type CostedBath = {
  readonly id: string;
  readonly tankId: string;
  readonly volumeL: number;
  readonly chargeAh: number;
  readonly mixedAt: Date;
  readonly disposedAt: Date | null;
};

/** Stock that went into a job: written on it, or on a run that held parts of it. */
export type CostedEntry = {
  readonly id: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly itemKind: ItemKind;
  readonly at: Date;
  readonly quantity: number;
  readonly costMinor: number;
  readonly note: string;
  /** null: written on the job alone, which bears all of it */
  readonly runId: string | null;
  readonly onJob: boolean;
};

const JOB = {
  customer: { select: { name: true } },
  parts: {
    orderBy: { mark: "asc" },
    select: {
      id: true,
      mark: true,
      description: true,
      quantity: true,
      state: true,
      plans: {
        orderBy: { version: "desc" },
        take: 1,
        select: { areaM2: true, dipCount: true },
      },
    },
  },
} as const satisfies Prisma.JobInclude;

function asCostedJob(job: Prisma.JobGetPayload<{ include: typeof JOB }>): CostedJob {
  const { id, number, state, takenInAt, closedAt } = job;
  const parts = job.parts.map(({ plans, ...part }) => ({ ...part, plan: plans[0] ?? null }));
  return { id, number, state, takenInAt, closedAt, parts, customerName: job.customer.name };
}

export async function findCostedJob(db: Db, jobId: string): Promise<CostedJob | null> {
  const job = await db.job.findUnique({ where: { id: jobId }, include: JOB });
  return job && asCostedJob(job);
}

/** Jobs that were not cancelled, newest first. */
export async function listCostedJobs(
  db: Db,
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly jobs: readonly CostedJob[]; readonly total: number }> {
  const where = { state: { not: "CANCELLED" } } as const;
  const [total, jobs] = await Promise.all([
    db.job.count({ where }),
    db.job.findMany({ where, skip, take, orderBy: { number: "desc" }, include: JOB }),
  ]);
  return { jobs: jobs.map(asCostedJob), total };
}

const RUN = {
  tank: { select: { name: true } },
  bath: {
    select: {
      id: true,
      tankId: true,
      volumeL: true,
      chargeAh: true,
      mixedAt: true,
      disposedAt: true,
    },
  },
  wear: { include: { anode: { select: { name: true } } } },
  dips: { include: { part: { select: { jobId: true, mark: true } }, plan: true } },
} as const satisfies Prisma.RunInclude;

/** The runs that were loaded with parts of this job, in order of loading. */
export async function runsOfJob(db: Db, jobId: string): Promise<readonly CostedRun[]> {
  const runs = await db.run.findMany({
    where: { loadedAt: { not: null }, dips: { some: { part: { jobId } } } },
    orderBy: { loadedAt: "asc" },
    include: RUN,
  });
  return runs.flatMap((run) => {
    const { loadedAt } = run;
    return loadedAt ? [asCostedRun({ ...run, loadedAt }, jobId)] : [];
  });
}

type LoadedRun = Prisma.RunGetPayload<{ include: typeof RUN }> & { readonly loadedAt: Date };

function asCostedRun(run: LoadedRun, jobId: string): CostedRun {
  const ours = run.dips.filter((dip) => dip.part.jobId === jobId);
  return {
    id: run.id,
    number: run.number,
    state: run.state,
    tankId: run.tankId,
    tankName: run.tank.name,
    loadedAt: run.loadedAt,
    pulledAt: run.pulledAt,
    jobShare: shareOf(ours, run.dips),
    partMarks: ours.map((dip) => dip.part.mark),
    chargeAh: run.chargeAh,
    energyKwh: run.energyKwh,
    expectedCurrentA: run.expectedCurrentA,
    wear: run.wear.map(({ anodeId, anode, lossG, costMinor }) => ({
      anodeId,
      anodeName: anode.name,
      lossG,
      costMinor,
    })),
    planned: plannedOf(ours.map(({ plan }) => plan)),
    bath: run.bath,
  };
}

/** Charge shares of all dips of a run add up to 1 when it is booked; dividing keeps it so where they do not. */
function shareOf(
  ours: readonly { chargeShare: number }[],
  all: readonly { chargeShare: number }[],
): number {
  const total = (dips: readonly { chargeShare: number }[]): number =>
    dips.reduce((sum, dip) => sum + dip.chargeShare, 0);
  return total(all) > 0 ? total(ours) / total(all) : 0;
}

function plannedOf(plans: readonly Plan[]): PlannedOfRun {
  const total = (value: (plan: Plan) => number): number =>
    plans.reduce((sum, plan) => sum + value(plan) / plan.dipCount, 0);
  const longest = (value: (plan: Plan) => number): number =>
    Math.max(0, ...plans.map((plan) => value(plan) / plan.dipCount));
  return {
    hoursP50: longest(({ hoursP50 }) => hoursP50),
    hoursP90: longest(({ hoursP90 }) => hoursP90),
    chargeAh: total(({ chargeAh }) => chargeAh),
    energyKwh: total(({ energyKwh }) => energyKwh),
    anodeLossG: total(({ anodeLossG }) => anodeLossG),
  };
}

/** What the salt of a bath cost: salt used for its tank, and for no run or job, while it was in use. */
export async function saltCostOfBath(db: Db, bath: CostedBath): Promise<number> {
  const { _sum } = await db.ledgerEntry.aggregate({
    where: {
      tankId: bath.tankId,
      runId: null,
      jobId: null,
      item: { kind: "SALT" },
      at: { gte: bath.mixedAt, ...(bath.disposedAt && { lt: bath.disposedAt }) },
    },
    _sum: { costMinor: true },
  });
  return Math.max(0, -(_sum.costMinor ?? 0));
}

/** Stock written on the job, or on one of its runs without naming another job; lines that were put right are left out. */
export async function entriesOfJob(
  db: Db,
  jobId: string,
  runIds: readonly string[],
): Promise<readonly CostedEntry[]> {
  const entries = await db.ledgerEntry.findMany({
    where: {
      OR: [{ jobId }, { jobId: null, runId: { in: [...runIds] } }],
      // A line and its correction add up to nothing; neither explains what the job cost.
      correctsId: null,
      correctedBy: null,
    },
    orderBy: [{ at: "asc" }, { id: "asc" }],
    include: { item: { select: { name: true, kind: true } } },
  });
  return entries.map((entry) => ({
    id: entry.id,
    itemId: entry.itemId,
    itemName: entry.item.name,
    itemKind: entry.item.kind,
    at: entry.at,
    quantity: entry.quantity.toNumber(),
    costMinor: entry.costMinor,
    note: entry.note,
    runId: entry.runId,
    onJob: entry.jobId !== null,
  }));
}
