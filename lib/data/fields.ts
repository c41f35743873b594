/** What the field says of plans, stored, and the queue that it is worked out from. */
import { randomUUID } from "node:crypto";
import type { FieldFindings } from "@/lib/treatment";
import type { Db } from "./client";
import { type FieldState, type Prisma } from "./generated/client";

export type { FieldState };

export type FieldRow = {
  readonly id: string;
  readonly planId: string;
  readonly state: FieldState;
  /** 0 to 1 */
  readonly progress: number;
  /** Of the scene asked for, and of the scene that the findings are of. */
  readonly sceneKey: string;
  readonly findingsKey: string | null;
  readonly findings: FieldFindings | null;
  /** Why it failed, in words; empty otherwise. */
  readonly why: string;
  readonly askedAt: Date;
  readonly finishedAt: Date | null;
};

const FIELD = {
  id: true,
  planId: true,
  state: true,
  progress: true,
  sceneKey: true,
  findingsKey: true,
  findings: true,
  why: true,
  askedAt: true,
  finishedAt: true,
} as const satisfies Prisma.PlanFieldSelect;

/** The field of a part's newest plan; null where there is none. */
export async function findPlanField(db: Db, partId: string): Promise<FieldRow | null> {
  const plan = await db.plan.findFirst({
    where: { partId },
    orderBy: { version: "desc" },
    select: { field: { select: FIELD } },
  });
  // Findings were made by lib/treatment and are stored as they were.
  return (plan?.field ?? null) as unknown as FieldRow | null;
}

export type NewField = {
  readonly planId: string;
  readonly sceneKey: string;
  readonly askedAt: Date;
  /** Findings that are there already: of this very scene, or of one before it. */
  readonly known?: { readonly findings: FieldFindings; readonly findingsKey: string } | undefined;
  /** Whether what is known is of this very scene and need not be worked out again. */
  readonly done: boolean;
};

/** Asks for the field of a plan; a plan that has one already keeps it. */
export async function insertPlanField(db: Db, field: NewField): Promise<void> {
  const { planId, sceneKey, askedAt, known, done } = field;
  await db.planField.createMany({
    data: [
      {
        planId,
        sceneKey,
        askedAt,
        ...(known && {
          findings: known.findings,
          findingsKey: known.findingsKey,
        }),
        ...(done && { state: "DONE" as const, progress: 1, finishedAt: askedAt }),
      },
    ],
    skipDuplicates: true,
  });
}

/**
 * Asks anew, unless somebody already asked for this scene. Whoever works on it loses the claim, and so writes nothing.
 *
 * @param always even where this scene was asked for: after a failure
 * @returns whether it was asked for
 */
export async function askPlanFieldAgain(
  db: Db,
  ask: { readonly id: string; readonly sceneKey: string; readonly askedAt: Date },
  always = false,
): Promise<boolean> {
  const { id, sceneKey, askedAt } = ask;
  const { count } = await db.planField.updateMany({
    where: { id, ...(always ? {} : { sceneKey: { not: sceneKey } }) },
    data: {
      ...{ state: "WAITING", progress: 0, sceneKey, askedAt, why: "" },
      ...{ claim: null, beatAt: null, startedAt: null, finishedAt: null, tries: 0 },
    },
  });
  return count === 1;
}

export type FieldClaim = {
  readonly id: string;
  readonly claim: string;
  readonly partId: string;
  readonly sceneKey: string;
  /** This one included. */
  readonly tries: number;
};

/**
 * Takes the field that waits longest, or one whose worker gave no sign of life for a while. Only the newest plan of a
 * part that is still to go in counts. SKIP LOCKED: of any number of callers each gets another one, and none waits.
 *
 * @param silentS s without a sign of life after which a claim is taken over
 * @param startedAt for people to read; the silence is measured by the database's own clock
 */
export async function claimPlanField(
  db: Db,
  silentS: number,
  startedAt: Date,
): Promise<FieldClaim | null> {
  const claim = randomUUID();
  const rows = await db.$queryRaw<Omit<FieldClaim, "claim">[]>`
    UPDATE "plan_field" SET "state" = 'WORKING', "claim" = ${claim}::uuid, "beat_at" = clock_timestamp(),
           "started_at" = ${startedAt}, "finished_at" = NULL, "progress" = 0, "why" = '', "tries" = "tries" + 1
     WHERE "id" = (
       SELECT f."id" FROM "plan_field" f
         JOIN "plan" p ON p."id" = f."plan_id"
         JOIN "part" t ON t."id" = p."part_id"
        WHERE (f."state" = 'WAITING'
               OR (f."state" = 'WORKING' AND f."beat_at" < clock_timestamp() - make_interval(secs => ${silentS})))
          AND t."state" IN ('PLANNED', 'BOOKED')
          AND NOT EXISTS (SELECT FROM "plan" n WHERE n."part_id" = p."part_id" AND n."version" > p."version")
        ORDER BY f."asked_at", f."id"
        LIMIT 1
        FOR UPDATE OF f SKIP LOCKED)
    RETURNING "id", "scene_key" AS "sceneKey", "tries",
              (SELECT p."part_id" FROM "plan" p WHERE p."id" = "plan_id") AS "partId"`;
  const [row] = rows;
  return row ? { ...row, claim } : null;
}

type Claimed = Pick<FieldClaim, "id" | "claim">;

/** A sign of life, and how far it is. @returns false when the claim is lost: the work is no longer wanted */
export async function beatPlanField(
  db: Db,
  { id, claim }: Claimed,
  progress: number,
): Promise<boolean> {
  const count = await db.$executeRaw`
    UPDATE "plan_field" SET "progress" = ${progress}, "beat_at" = clock_timestamp()
     WHERE "id" = ${id}::uuid AND "claim" = ${claim}::uuid`;
  return count === 1;
}

/** Says which scene is really being worked on: it may have changed since it was asked for. */
export async function setSceneKey(
  db: Db,
  { id, claim }: Claimed,
  sceneKey: string,
): Promise<boolean> {
  const { count } = await db.planField.updateMany({ where: { id, claim }, data: { sceneKey } });
  return count === 1;
}

/** Keeps what was found, where the claim still holds. @returns whether it did */
export async function finishPlanField(
  db: Db,
  { id, claim }: Claimed,
  found: {
    readonly findings: FieldFindings;
    readonly sceneKey: string;
    readonly finishedAt: Date;
  },
): Promise<boolean> {
  const { findings, sceneKey, finishedAt } = found;
  const { count } = await db.planField.updateMany({
    where: { id, claim },
    data: {
      ...{ state: "DONE", progress: 1, claim: null, finishedAt },
      ...{ sceneKey, findingsKey: sceneKey },
      findings: findings,
    },
  });
  return count === 1;
}

/** Keeps why nothing was found, where the claim still holds; earlier findings stay. */
export async function failPlanField(
  db: Db,
  { id, claim }: Claimed,
  why: string,
  finishedAt: Date,
): Promise<boolean> {
  const { count } = await db.planField.updateMany({
    where: { id, claim },
    data: { state: "FAILED", progress: 0, claim: null, why, finishedAt },
  });
  return count === 1;
}

/** Puts a field back in the queue as if it had not been taken, where the claim still holds. */
export async function handBackPlanField(db: Db, { id, claim }: Claimed): Promise<void> {
  await db.planField.updateMany({
    where: { id, claim },
    data: {
      ...{ state: "WAITING", progress: 0, claim: null, beatAt: null, startedAt: null },
      tries: { decrement: 1 },
    },
  });
}
