/** Calendar addresses, and the rows that a calendar program is shown: runs, other work on tanks, promised days. */
import type { Role } from "@/lib/access";
import type { Db } from "./client";
import type { FeedKind, Prisma } from "./generated/client";

export type { FeedKind };

const FEED = {
  id: true,
  kind: true,
  name: true,
  tankId: true,
  personId: true,
  includesUnassigned: true,
  createdAt: true,
  lastReadAt: true,
  tank: { select: { name: true } },
  person: { select: { name: true, role: true, disabledAt: true } },
} as const satisfies Prisma.CalendarFeedSelect;

type FeedPayload = Prisma.CalendarFeedGetPayload<{ select: typeof FEED }>;
/** A live calendar address, without its secret: only the hash of that is kept. */
export type FeedRow = Omit<FeedPayload, "person"> & {
  readonly person: { readonly name: string; readonly role: Role; readonly disabledAt: Date | null };
};

export type NewFeed = Pick<
  FeedRow,
  "kind" | "name" | "tankId" | "personId" | "includesUnassigned" | "createdAt"
> & { readonly tokenHash: string };

/** @returns its id */
export async function insertFeed(db: Db, feed: NewFeed): Promise<string> {
  const row = await db.calendarFeed.create({ data: feed, select: { id: true } });
  return row.id;
}

/** Addresses that were not revoked, the newest first; of one person where named. */
export async function listFeeds(
  db: Db,
  where: { readonly personId?: string } = {},
): Promise<readonly FeedRow[]> {
  return db.calendarFeed.findMany({
    where: { ...where, revokedAt: null },
    orderBy: [{ createdAt: "desc" }, { id: "asc" }],
    select: FEED,
  });
}

/** The address with this hash, unless it was revoked or its person is kept out. */
export async function findFeedByHash(db: Db, tokenHash: string): Promise<FeedRow | null> {
  return db.calendarFeed.findFirst({
    where: { tokenHash, revokedAt: null, person: { disabledAt: null } },
    select: FEED,
  });
}

/**
 * Ends an address; of one person where named. One conditional UPDATE, so that of two who revoke it at once one is told
 * that it is gone.
 *
 * @returns whether it was there
 */
export async function endFeed(
  db: Db,
  id: string,
  at: Date,
  where: { readonly personId?: string } = {},
): Promise<boolean> {
  const { count } = await db.calendarFeed.updateMany({
    where: { id, revokedAt: null, ...where },
    data: { revokedAt: at },
  });
  return count === 1;
}

/** Notes that an address was read, unless that was noted since `unlessSince`: programs read many times a day. */
export async function noteFeedRead(db: Db, id: string, at: Date, unlessSince: Date): Promise<void> {
  await db.calendarFeed.updateMany({
    where: { id, OR: [{ lastReadAt: null }, { lastReadAt: { lt: unlessSince } }] },
    data: { lastReadAt: at },
  });
}

const FEED_RUN = {
  id: true,
  number: true,
  state: true,
  startsAt: true,
  endsAt: true,
  expectedCurrentA: true,
  currentLowA: true,
  currentHighA: true,
  sequence: true,
  changedAt: true,
  tank: { select: { name: true, place: true } },
  dips: {
    orderBy: [{ part: { job: { number: "asc" } } }, { part: { mark: "asc" } }],
    select: {
      part: {
        select: {
          mark: true,
          description: true,
          quantity: true,
          job: { select: { number: true } },
        },
      },
    },
  },
} as const satisfies Prisma.RunSelect;

/** A run as a calendar tells of it: nothing of its customer, and no money. */
export type FeedRunRow = Prisma.RunGetPayload<{ select: typeof FEED_RUN }>;

export type FeedSpan = {
  readonly from: Date;
  readonly until: Date;
  /** what was cancelled since is still told of */
  readonly cancelledSince: Date;
};

/** Whose runs: of one tank, or for one person to load and pull, with what nobody has taken on where asked. */
export type FeedRunsOf = {
  readonly tankId?: string;
  readonly personId?: string;
  readonly orNobody?: boolean;
};

/** Runs that touch a span, lately cancelled ones too; by start. */
export async function listFeedRuns(
  db: Db,
  span: FeedSpan,
  { tankId, personId, orNobody }: FeedRunsOf,
): Promise<readonly FeedRunRow[]> {
  const hands: Prisma.RunWhereInput[] = personId
    ? [{ OR: [{ assignedToId: personId }, ...(orNobody ? [{ assignedToId: null }] : [])] }]
    : [];
  return db.run.findMany({
    where: {
      ...(tankId ? { tankId } : {}),
      startsAt: { lt: span.until },
      endsAt: { gt: span.from },
      AND: [
        ...hands,
        { OR: [{ state: { not: "CANCELLED" } }, { cancelledAt: { gte: span.cancelledSince } }] },
      ],
    },
    orderBy: [{ startsAt: "asc" }, { id: "asc" }],
    select: FEED_RUN,
  });
}

const FEED_HOLD = {
  id: true,
  tankId: true,
  kind: true,
  state: true,
  startsAt: true,
  endsAt: true,
  note: true,
  sequence: true,
  changedAt: true,
  tank: { select: { name: true, place: true } },
} as const satisfies Prisma.TankHoldSelect;

export type FeedHoldRow = Prisma.TankHoldGetPayload<{ select: typeof FEED_HOLD }>;

/** Other work on tanks that touches a span, lately cancelled work too; by start. */
export async function listFeedHolds(
  db: Db,
  span: FeedSpan,
  where: { readonly tankId?: string } = {},
): Promise<readonly FeedHoldRow[]> {
  return db.tankHold.findMany({
    where: {
      ...where,
      startsAt: { lt: span.until },
      endsAt: { gt: span.from },
      // Nothing changes work that was cancelled, so its last change is when that happened.
      OR: [{ state: { not: "CANCELLED" } }, { changedAt: { gte: span.cancelledSince } }],
    },
    orderBy: [{ startsAt: "asc" }, { id: "asc" }],
    select: FEED_HOLD,
  });
}

const FEED_JOB = {
  id: true,
  number: true,
  promisedFor: true,
  takenInAt: true,
  parts: { orderBy: { mark: "asc" }, select: { mark: true, description: true, quantity: true } },
} as const satisfies Prisma.JobSelect;

type FeedJobPayload = Prisma.JobGetPayload<{ select: typeof FEED_JOB }>;
export type FeedJobRow = Omit<FeedJobPayload, "promisedFor" | "takenInAt"> & {
  readonly promisedFor: Date;
  /** rises with each change of the job: the lines that its audit trail has */
  readonly sequence: number;
  readonly changedAt: Date;
};

/** Open jobs promised for a day of the span, the soonest first. */
export async function listFeedJobs(
  db: Db,
  span: Pick<FeedSpan, "from" | "until">,
): Promise<readonly FeedJobRow[]> {
  const jobs = await db.job.findMany({
    where: { state: "OPEN", promisedFor: { gte: span.from, lt: span.until } },
    orderBy: [{ promisedFor: "asc" }, { number: "asc" }],
    select: FEED_JOB,
  });
  const told = await db.auditEntry.groupBy({
    by: ["subjectId"],
    where: { subjectType: "job", subjectId: { in: jobs.map(({ id }) => id) } },
    _count: { _all: true },
    _max: { at: true },
  });
  const linesOf = new Map(told.map((line) => [line.subjectId, line]));
  return jobs.flatMap(({ promisedFor, takenInAt, ...job }) => {
    const lines = linesOf.get(job.id);
    const sequence = lines?._count._all ?? 0;
    return promisedFor
      ? [{ ...job, promisedFor, sequence, changedAt: lines?._max.at ?? takenInAt }]
      : [];
  });
}

/** When anything in the shop was last done that the audit trail tells of; null before the first. */
export async function lastAuditAt(db: Db): Promise<Date | null> {
  const line = await db.auditEntry.findFirst({ orderBy: { at: "desc" }, select: { at: true } });
  return line?.at ?? null;
}
