/** Runs as they stand: for the board, the bench, lists, and the figures that go by them. */
import type { TreatmentPlan } from "@/lib/treatment";
import type { Db } from "./client";
import type {
  DipResult,
  DipTiming,
  Goal,
  JobState,
  PartState,
  Plan,
  Prisma,
  Run,
  RunState,
} from "./generated/client";

export type { DipResult, DipTiming, RunState };

const DIPS = {
  orderBy: { part: { mark: "asc" } },
  include: {
    part: {
      select: {
        id: true,
        mark: true,
        description: true,
        state: true,
        quantity: true,
        lengthMm: true,
        widthMm: true,
        heightMm: true,
        job: {
          select: {
            id: true,
            number: true,
            promisedFor: true,
            customer: { select: { name: true } },
          },
        },
      },
    },
    plan: true,
  },
} as const satisfies Prisma.DipFindManyArgs;

const RUN = {
  tank: { select: { id: true, name: true } },
  bath: true,
  supply: true,
  acknowledgedBy: { select: { name: true } },
  dips: DIPS,
} as const satisfies Prisma.RunInclude;

type RunPayload = Prisma.RunGetPayload<{ include: typeof RUN }>;
type DipPayload = RunPayload["dips"][number];

/** A stored plan: the columns beside the planner's whole result. */
export type StoredPlan = Omit<Plan, "result"> & { readonly result: TreatmentPlan };
export type DipRow = Omit<DipPayload, "plan"> & { readonly plan: StoredPlan };
export type RunRow = Omit<RunPayload, "dips"> & { readonly dips: readonly DipRow[] };

export async function findRun(db: Db, runId: string): Promise<RunRow | null> {
  const row = await db.run.findUnique({ where: { id: runId }, include: RUN });
  return row && asRunRow(row);
}

/** The run, locked to the end of the transaction: lines up those who load, read, pull, finish, move and cancel it. */
export async function lockRun(db: Db, runId: string): Promise<RunRow | null> {
  await db.$queryRaw`SELECT "id" FROM "run" WHERE "id" = ${runId}::uuid FOR UPDATE`;
  return findRun(db, runId);
}

/** The run that a booking under this key made, if it was made already. */
export async function findRunByKey(db: Db, idempotencyKey: string): Promise<Run | null> {
  return db.run.findUnique({ where: { idempotencyKey } });
}

/** Runs that hold a tank, are to be finished, or touch a span of time; by start. */
export async function listRunsBetween(
  db: Db,
  from: Date,
  until: Date,
  where: { readonly tankId?: string } = {},
): Promise<readonly RunRow[]> {
  const rows = await db.run.findMany({
    where: {
      ...where,
      state: { not: "CANCELLED" },
      OR: [
        { startsAt: { lt: until }, endsAt: { gt: from } },
        { state: { in: ["RUNNING", "PULLED"] } },
      ],
    },
    orderBy: { startsAt: "asc" },
    include: RUN,
  });
  return rows.map(asRunRow);
}

/** A run that holds its tank. */
export type LiveRun = Pick<Run, "id" | "state" | "startsAt" | "endsAt">;

/** Planned and running runs of a tank, by start. */
export async function listLiveRuns(db: Db, tankId: string): Promise<readonly LiveRun[]> {
  return db.run.findMany({
    where: { state: { in: ["PLANNED", "RUNNING"] }, tankId },
    orderBy: { startsAt: "asc" },
    select: { id: true, state: true, startsAt: true, endsAt: true },
  });
}

/** Planned and running runs that draw from a supply, by start. */
export async function listLiveRunsOfSupply(
  db: Db,
  supplyId: string,
): Promise<readonly (LiveRun & { readonly expectedCurrentA: number })[]> {
  return db.run.findMany({
    where: { state: { in: ["PLANNED", "RUNNING"] }, supplyId },
    orderBy: { startsAt: "asc" },
    select: { id: true, state: true, startsAt: true, endsAt: true, expectedCurrentA: true },
  });
}

/** Runs of a state, or all, newest first. */
export async function listRuns(
  db: Db,
  where: { readonly state?: RunState; readonly tankId?: string },
  window: { readonly skip: number; readonly take: number },
): Promise<{ readonly runs: readonly RunRow[]; readonly total: number }> {
  const [total, rows] = await Promise.all([
    db.run.count({ where }),
    db.run.findMany({
      where,
      ...window,
      orderBy: [{ startsAt: "desc" }, { id: "asc" }],
      include: RUN,
    }),
  ]);
  return { runs: rows.map(asRunRow), total };
}

/** A part as booking sees it: its newest plan and verdict, and the ends that were dipped well. */
export type BookablePart = {
  readonly id: string;
  readonly mark: string;
  readonly description: string;
  readonly state: PartState;
  /** pieces, all of which go in together */
  readonly quantity: number;
  readonly goal: Goal;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly job: {
    readonly id: string;
    readonly number: number;
    readonly state: JobState;
    readonly promisedFor: Date | null;
    readonly rush: boolean;
  };
  readonly plan: StoredPlan | null;
  readonly verdict: { readonly outcome: string; readonly overruled: boolean } | null;
  /** ends, 1 or 2, that came out clean under the newest plan */
  readonly endsDone: readonly number[];
  /** ends that are booked or in a tank now, and when each is out */
  readonly endsBooked: readonly { readonly end: number; readonly endsAt: Date }[];
};

export async function findBookableParts(
  db: Db,
  partIds: readonly string[],
): Promise<readonly BookablePart[]> {
  return bookable(db, { id: { in: [...partIds] } });
}

/** Parts that are planned for a tank and wait for a booking. */
export async function listPartsAwaitingTank(
  db: Db,
  tankId?: string,
): Promise<readonly BookablePart[]> {
  const parts = await bookable(db, {
    job: { state: "OPEN" },
    OR: [
      { state: "PLANNED" },
      { state: { in: ["BOOKED", "IN_BATH"] }, plans: { some: { dipCount: { gt: 1 } } } },
    ],
  });
  return parts.filter(
    (part) => part.plan && (!tankId || part.plan.tankId === tankId) && hasEndToBook(part),
  );
}

/** A part that goes in end for end may have one end booked while the other still waits. */
function hasEndToBook({ plan, endsDone, endsBooked }: BookablePart): boolean {
  const taken = new Set([...endsDone, ...endsBooked.map(({ end }) => end)]);
  return plan !== null && taken.size < plan.dipCount;
}

async function bookable(db: Db, where: Prisma.PartWhereInput): Promise<readonly BookablePart[]> {
  const rows = await db.part.findMany({
    where,
    orderBy: [{ job: { promisedFor: "asc" } }, { job: { number: "asc" } }, { mark: "asc" }],
    select: {
      id: true,
      mark: true,
      description: true,
      state: true,
      quantity: true,
      goal: true,
      lengthMm: true,
      widthMm: true,
      heightMm: true,
      job: { select: { id: true, number: true, state: true, promisedFor: true, rush: true } },
      plans: { orderBy: { version: "desc" }, take: 1 },
      verdicts: {
        orderBy: { decidedAt: "desc" },
        take: 1,
        select: { outcome: true, overruled: true },
      },
      dips: {
        where: {
          OR: [
            { result: { in: ["CLEAN", "PARTLY"] } },
            { run: { state: { in: ["PLANNED", "RUNNING"] } } },
          ],
        },
        select: {
          end: true,
          planId: true,
          result: true,
          run: { select: { state: true, endsAt: true } },
        },
      },
    },
  });
  return rows.map(({ plans, verdicts, dips, ...part }) => {
    const plan = plans[0] ? asStoredPlan(plans[0]) : null;
    const ofPlan = dips.filter((dip) => dip.planId === plan?.id);
    const endsDone = ofPlan.filter(({ result }) => result !== null).map(({ end }) => end);
    const endsBooked = dips
      .filter(({ run }) => run.state === "PLANNED" || run.state === "RUNNING")
      .map(({ end, run }) => ({ end, endsAt: run.endsAt }));
    return { ...part, plan, verdict: verdicts[0] ?? null, endsDone, endsBooked };
  });
}

function asRunRow({ dips, ...run }: RunPayload): RunRow {
  return { ...run, dips: dips.map((dip) => ({ ...dip, plan: asStoredPlan(dip.plan) })) };
}

/** The column holds what lib/treatment answered when the plan was made, and is written by the planning service alone. */
function asStoredPlan(plan: Plan): StoredPlan {
  return { ...plan, result: plan.result as unknown as TreatmentPlan };
}
