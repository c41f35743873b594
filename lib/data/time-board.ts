/** What stands on the board of tanks over time: light rows, since there may be thousands. */
import type { Db } from "./client";
import type { HoldKind, HoldState, Prisma, RunState, TankHold } from "./generated/client";

export type { HoldKind, HoldState };

const BOARD_RUN = {
  id: true,
  number: true,
  state: true,
  tankId: true,
  supplyId: true,
  startsAt: true,
  endsAt: true,
  pulledAt: true,
  expectedCurrentA: true,
  targetChargeAh: true,
  treatHours: true,
  benchMinutes: true,
  fixed: true,
  sequence: true,
  changedAt: true,
  cancelledAt: true,
  notes: true,
  assignedTo: { select: { id: true, name: true } },
  dips: {
    orderBy: { part: { mark: "asc" } },
    select: {
      id: true,
      end: true,
      part: {
        select: {
          id: true,
          mark: true,
          description: true,
          quantity: true,
          state: true,
          goal: true,
          lengthMm: true,
          widthMm: true,
          heightMm: true,
          job: {
            select: {
              id: true,
              number: true,
              promisedFor: true,
              rush: true,
            },
          },
        },
      },
      plan: { select: { id: true, dipCount: true, hoursP50: true, hoursP90: true } },
    },
  },
} as const satisfies Prisma.RunSelect;

export type BoardRunRow = Prisma.RunGetPayload<{ select: typeof BOARD_RUN }>;

/**
 * Runs that touch a span, and those that still hold a tank or wait on the bench; by start.
 *
 * @param states all but cancelled ones when left out
 */
export async function listBoardRuns(
  db: Db,
  span: { readonly from: Date; readonly until: Date },
  states?: readonly RunState[],
): Promise<readonly BoardRunRow[]> {
  return db.run.findMany({
    where: {
      state: states ? { in: [...states] } : { not: "CANCELLED" },
      OR: [
        { startsAt: { lt: span.until }, endsAt: { gt: span.from } },
        { state: { in: ["RUNNING", "PULLED"] } },
      ],
    },
    orderBy: [{ startsAt: "asc" }, { id: "asc" }],
    select: BOARD_RUN,
  });
}

export type HoldRow = TankHold;

/** Other work on tanks that touches a span, by start; cancelled ones left out. */
export async function listHolds(
  db: Db,
  span: { readonly from: Date; readonly until: Date },
  where: { readonly tankId?: string } = {},
): Promise<readonly HoldRow[]> {
  return db.tankHold.findMany({
    where: {
      ...where,
      state: { not: "CANCELLED" },
      startsAt: { lt: span.until },
      endsAt: { gt: span.from },
    },
    orderBy: [{ startsAt: "asc" }, { id: "asc" }],
  });
}

/** The work, locked to the end of the transaction. */
export async function lockHold(db: Db, holdId: string): Promise<HoldRow | null> {
  await db.$queryRaw`SELECT "id" FROM "tank_hold" WHERE "id" = ${holdId}::uuid FOR UPDATE`;
  return db.tankHold.findUnique({ where: { id: holdId } });
}

export async function findHoldByKey(db: Db, idempotencyKey: string): Promise<HoldRow | null> {
  return db.tankHold.findUnique({ where: { idempotencyKey } });
}

/** @returns its id */
export async function insertHold(
  db: Db,
  hold: Pick<
    HoldRow,
    "tankId" | "kind" | "startsAt" | "endsAt" | "note" | "createdById" | "idempotencyKey"
  >,
): Promise<string> {
  const row = await db.tankHold.create({ data: hold, select: { id: true } });
  return row.id;
}

/** Changes work that is still planned. @returns whether it was */
export async function changeHold(
  db: Db,
  holdId: string,
  change: Partial<Pick<HoldRow, "startsAt" | "endsAt" | "note" | "state">>,
): Promise<boolean> {
  const { count } = await db.tankHold.updateMany({
    where: { id: holdId, state: "PLANNED" },
    data: change,
  });
  return count === 1;
}

/** Charge that tanks still bear, A·h, as the database's own rules count it. */
export type ChargeLeft = {
  readonly tankId: string;
  /** until its first anode is due; null where none hangs */
  readonly anodeAh: number | null;
  /** until its bath is spent; null where it is drained */
  readonly bathAh: number | null;
};

export async function chargesLeft(db: Db): Promise<readonly ChargeLeft[]> {
  return db.$queryRaw<ChargeLeft[]>`
    SELECT "id" AS "tankId", anode_left_ah("id") AS "anodeAh", bath_left_ah("id") AS "bathAh"
      FROM "tank" WHERE "retired_at" IS NULL`;
}

/**
 * Locks what a change of the whole board touches, in one order for everybody (runs, tanks, supplies), and puts the
 * check of bookings off until `checkBookingsNow`, so that runs may swap their places.
 */
export async function lockBoard(db: Db, runIds: readonly string[]): Promise<void> {
  await db.$queryRaw`
    SELECT "id" FROM "run" WHERE "id" = ANY(${[...runIds]}::uuid[]) ORDER BY "id" FOR UPDATE`;
  await db.$queryRaw`SELECT "id" FROM "tank" ORDER BY "id" FOR NO KEY UPDATE`;
  await db.$queryRaw`SELECT "id" FROM "supply" ORDER BY "id" FOR NO KEY UPDATE`;
  await db.$executeRaw`SET CONSTRAINTS ALL DEFERRED`;
}

/** Checks what was put off, and everything after it at once. @throws as the constraint that is broken */
export async function checkBookingsNow(db: Db): Promise<void> {
  await db.$executeRaw`SET CONSTRAINTS ALL IMMEDIATE`;
}
