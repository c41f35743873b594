import type { Db } from "./client";
import type { JobState, PartState, Prisma, QuoteState, VerdictOutcome } from "./generated/client";

export type { JobState, PartState, VerdictOutcome };

const LIST = {
  customer: { select: { id: true, name: true } },
  parts: { orderBy: { mark: "asc" }, select: { description: true, state: true } },
} as const satisfies Prisma.JobInclude;

export type JobListRow = Prisma.JobGetPayload<{ include: typeof LIST }>;

export type JobFilter = {
  readonly which: "open" | "due" | "all";
  /** Last day that counts as due, as midnight UTC. */
  readonly dueBy: Date;
  /** A job's number, or part of a customer's name or a part's description. */
  readonly search: string;
  readonly customerId?: string | undefined;
};

/** Jobs, one page: those with the nearest promise first, then the newest. */
export async function listJobs(
  db: Db,
  filter: JobFilter,
  page: { readonly skip: number; readonly take: number },
): Promise<{ rows: readonly JobListRow[]; total: number }> {
  const where = jobsWhere(filter);
  const orderBy: Prisma.JobOrderByWithRelationInput[] =
    filter.which === "all"
      ? [{ number: "desc" }]
      : [{ promisedFor: { sort: "asc", nulls: "last" } }, { number: "asc" }];
  const [rows, total] = await Promise.all([
    db.job.findMany({ where, orderBy, ...page, include: LIST }),
    db.job.count({ where }),
  ]);
  return { rows, total };
}

function jobsWhere({ which, dueBy, search, customerId }: JobFilter): Prisma.JobWhereInput {
  const number = /^#?\d{1,9}$/.test(search) ? Number(search.replace("#", "")) : null;
  const holds = { contains: search, mode: "insensitive" } as const;
  return {
    ...(customerId ? { customerId } : {}),
    ...(which === "all" ? {} : { state: "OPEN" }),
    ...(which === "due" ? { promisedFor: { lte: dueBy } } : {}),
    ...(number !== null
      ? { number }
      : search
        ? { OR: [{ customer: { name: holds } }, { parts: { some: { description: holds } } }] }
        : {}),
  };
}

const FULL = {
  customer: true,
  takenInBy: { select: { name: true } },
  parts: {
    orderBy: { mark: "asc" },
    select: {
      id: true,
      mark: true,
      description: true,
      state: true,
      quantity: true,
      verdicts: {
        orderBy: { decidedAt: "desc" },
        take: 1,
        select: { outcome: true, overruled: true },
      },
      plans: {
        orderBy: { version: "desc" },
        take: 1,
        select: { version: true, hoursP50: true, hoursP90: true, tank: { select: { name: true } } },
      },
      photos: { take: 1, orderBy: { takenAt: "asc" }, select: { id: true } },
    },
  },
  quotes: {
    orderBy: { number: "desc" },
    take: 1,
    select: {
      number: true,
      versions: {
        orderBy: { version: "desc" },
        take: 1,
        select: {
          state: true,
          currency: true,
          validUntil: true,
          acceptedOptionId: true,
          options: { orderBy: { position: "asc" }, select: { id: true, totalMinor: true } },
        },
      },
    },
  },
} as const satisfies Prisma.JobInclude;

type FullJob = Prisma.JobGetPayload<{ include: typeof FULL }>;

export type JobPartRow = Omit<FullJob["parts"][number], "verdicts" | "plans" | "photos"> & {
  readonly verdict: { readonly outcome: VerdictOutcome; readonly overruled: boolean } | null;
  readonly plan: FullJob["parts"][number]["plans"][number] | null;
  readonly photoId: string | null;
};

export type JobRow = Omit<FullJob, "parts" | "quotes"> & {
  readonly parts: readonly JobPartRow[];
  readonly quote: {
    readonly number: number;
    readonly state: QuoteState;
    readonly totalMinor: number;
    readonly currency: string;
    readonly validUntil: Date;
  } | null;
};

/** The job with its customer, parts and newest quote; null where there is none. */
export async function findJob(db: Db, id: string): Promise<JobRow | null> {
  const row = await db.job.findUnique({ where: { id }, include: FULL });
  if (!row) return null;
  const { parts, quotes, ...job } = row;
  const [quote] = quotes;
  const [version] = quote?.versions ?? [];
  return {
    ...job,
    quote: quote && version ? asNewestQuote(quote.number, version) : null,
    parts: parts.map(({ verdicts, plans, photos, ...part }) => ({
      ...part,
      verdict: verdicts[0] ?? null,
      plan: plans[0] ?? null,
      photoId: photos[0]?.id ?? null,
    })),
  };
}

type NewestVersion = FullJob["quotes"][number]["versions"][number];

function asNewestQuote(number: number, version: NewestVersion): JobRow["quote"] {
  const { options, acceptedOptionId, ...shown } = version;
  const chosen = options.find(({ id }) => id === acceptedOptionId) ?? options[0];
  return { number, ...shown, totalMinor: chosen?.totalMinor ?? 0 };
}

/** Locks a job's row, so that parts get their marks and states one after the other. @returns its state, or null */
export async function lockJob(db: Db, id: string): Promise<JobState | null> {
  const rows = await db.$queryRaw<{ state: JobState }[]>`
    SELECT "state" FROM "job" WHERE "id" = ${id}::uuid FOR UPDATE`;
  return rows[0]?.state ?? null;
}

/** @returns its id */
export async function insertJob(
  db: Db,
  job: {
    readonly number: number;
    readonly customerId: string;
    readonly takenInAt: Date;
    readonly takenInById: string;
    readonly promisedFor: Date | null;
    readonly rush: boolean;
    readonly notes: string;
  },
): Promise<string> {
  const row = await db.job.create({ data: job, select: { id: true } });
  return row.id;
}

/** Writes what is given and leaves the rest. */
export async function updateJob(
  db: Db,
  id: string,
  change: {
    readonly promisedFor?: Date | null;
    readonly rush?: boolean;
    readonly notes?: string;
    readonly state?: JobState;
    readonly closedAt?: Date | null;
  },
): Promise<void> {
  await db.job.update({ where: { id }, data: change });
}
