/** Booking, moving, loading, pulling and finishing, as rows. Whether it may be done is decided in lib/services/runs. */
import type { Db } from "./client";
import type { DipResult, DipTiming, PartState, Prisma, Run, RunState } from "./generated/client";

export type NewRun = Pick<
  Run,
  | "number"
  | "tankId"
  | "supplyId"
  | "startsAt"
  | "endsAt"
  | "treatHours"
  | "benchMinutes"
  | "expectedCurrentA"
  | "currentLowA"
  | "currentHighA"
  | "targetChargeAh"
  | "bookedAt"
  | "notes"
  | "idempotencyKey"
> & {
  readonly dips: readonly {
    readonly partId: string;
    readonly planId: string;
    readonly end: number;
    readonly chargeShare: number;
  }[];
};

/** Writes a booking. Of callers who want the same time in one tank, the exclusion constraint lets one in. @returns its id */
export async function insertRun(db: Db, { dips, ...run }: NewRun): Promise<string> {
  const row = await db.run.create({
    data: { ...run, dips: { create: [...dips] } },
    select: { id: true },
  });
  return row.id;
}

/**
 * Moves a run to another state, with what goes with it, if it is still in `from`.
 * One conditional UPDATE whose count is checked: of two people who load, pull or cancel it at once, one finds it changed.
 *
 * @returns whether it was in `from`
 */
export async function moveRunState(
  db: Db,
  runId: string,
  from: RunState,
  change: Prisma.RunUncheckedUpdateManyInput & { readonly state: RunState },
): Promise<boolean> {
  const { count } = await db.run.updateMany({ where: { id: runId, state: from }, data: change });
  return count === 1;
}

/** What a move may change of a booking. */
export type BookingChange = { readonly startsAt: Date; readonly endsAt: Date } & Partial<
  Pick<
    NewRun,
    | "tankId"
    | "supplyId"
    | "treatHours"
    | "benchMinutes"
    | "expectedCurrentA"
    | "currentLowA"
    | "currentHighA"
    | "targetChargeAh"
  >
>;

/** Gives a planned run another time, or tank; the database's constraints decide whether that is free. */
export async function setRunTime(db: Db, runId: string, time: BookingChange): Promise<boolean> {
  const { count } = await db.run.updateMany({
    where: { id: runId, state: "PLANNED" },
    data: time,
  });
  return count === 1;
}

/** Locks parts to the end of the transaction, in one order, so that no two callers wait for each other. */
export async function lockParts(db: Db, partIds: readonly string[]): Promise<void> {
  await db.$queryRaw`
    SELECT "id" FROM "part" WHERE "id" = ANY(${[...partIds]}::uuid[]) ORDER BY "id" FOR UPDATE`;
}

/**
 * Gives parts back that no other live run holds: a part whose other end is booked stays booked.
 * @param from the state that the run that is over held them in
 */
export async function freeParts(
  db: Db,
  partIds: readonly string[],
  { runId, from }: { readonly runId: string; readonly from: PartState },
): Promise<void> {
  await db.part.updateMany({
    where: {
      id: { in: [...partIds] },
      state: from,
      dips: { none: { runId: { not: runId }, run: { state: "PLANNED" } } },
    },
    data: { state: "PLANNED" },
  });
  await db.part.updateMany({
    where: { id: { in: [...partIds] }, state: from },
    data: { state: "BOOKED" },
  });
}

/** Puts further dips into a run that is booked. */
export async function insertDips(db: Db, runId: string, dips: NewRun["dips"]): Promise<void> {
  await db.dip.createMany({ data: dips.map((dip) => ({ ...dip, runId })) });
}

/** Takes dips out of a run that is booked. @returns how many there were */
export async function deleteDips(
  db: Db,
  runId: string,
  partIds: readonly string[],
): Promise<number> {
  const { count } = await db.dip.deleteMany({
    where: { runId, partId: { in: [...partIds] }, run: { state: "PLANNED" } },
  });
  return count;
}

/** Lets the dips of a run follow plans made for another tank. */
export async function setDipPlans(
  db: Db,
  runId: string,
  dips: readonly {
    readonly partId: string;
    readonly planId: string;
    readonly chargeShare: number;
  }[],
): Promise<void> {
  for (const { partId, planId, chargeShare } of dips) {
    await db.dip.updateMany({ where: { runId, partId }, data: { planId, chargeShare } });
  }
}

/** Sets what the board alone minds of a run that is not loaded yet. @returns whether it was planned still */
export async function setRunBoardMarks(
  db: Db,
  runId: string,
  marks: { readonly fixed?: boolean; readonly assignedToId?: string | null },
): Promise<boolean> {
  const { count } = await db.run.updateMany({
    where: { id: runId, state: { in: ["PLANNED", "RUNNING"] } },
    data: marks,
  });
  return count === 1;
}

/**
 * Moves parts from one state to another, all or none of interest to the caller: the count says how many were in `from`.
 */
export async function movePartStates(
  db: Db,
  partIds: readonly string[],
  from: PartState,
  to: PartState,
): Promise<number> {
  const { count } = await db.part.updateMany({
    where: { id: { in: [...partIds] }, state: from },
    data: { state: to },
  });
  return count;
}

export async function setDipResult(
  db: Db,
  dipId: string,
  outcome: {
    readonly result: DipResult;
    readonly resultNote: string;
    /** of a part that came out clean; null where nobody is sure */
    readonly timing: DipTiming | null;
  },
): Promise<void> {
  await db.dip.update({ where: { id: dipId }, data: outcome });
}

/** The detail of the newest audit line of an action on a subject; what an undo goes back to. */
export async function lastAuditDetail(
  db: Db,
  action: string,
  subjectId: string,
): Promise<Readonly<Record<string, unknown>> | null> {
  const line = await db.auditEntry.findFirst({
    where: { action, subjectId },
    orderBy: { at: "desc" },
    select: { detail: true },
  });
  const detail = line?.detail;
  return detail && typeof detail === "object" && !Array.isArray(detail) ? detail : null;
}
