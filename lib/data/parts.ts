import type { PartDescription, SuitabilityVerdict, TreatmentPlan } from "@/lib/treatment";
import type { Db } from "./client";
import type { PartState, Plan, Prisma, Verdict } from "./generated/client";
import { MESH_FACTS } from "./meshes";

/** What is said of a part when it is taken in or changed. */
export type PartInput = Omit<PartDescription, "fromDrawing"> & {
  readonly description: string;
  readonly quantity: number;
  readonly notes: string;
};

export type VerdictRow = Omit<Verdict, "findings"> & {
  readonly findings: SuitabilityVerdict;
  readonly decidedBy: { readonly name: string };
};
export type PlanRow = Omit<Plan, "result"> & {
  readonly result: TreatmentPlan;
  readonly madeBy: { readonly name: string };
};

export type PhotoRow = {
  readonly id: string;
  readonly moment: "BEFORE" | "DURING" | "AFTER";
  readonly caption: string;
  readonly takenAt: Date;
  readonly widthPx: number;
  readonly heightPx: number;
};

const PART = {
  reliefBakes: {
    where: { mustStartBy: { not: null } },
    orderBy: { mustStartBy: "desc" },
    take: 1,
    select: { hours: true, mustStartBy: true, startedAt: true, endedAt: true },
  },
  job: { select: { id: true, number: true, state: true, customer: { select: { name: true } } } },
  verdicts: {
    orderBy: { decidedAt: "desc" },
    take: 1,
    include: { decidedBy: { select: { name: true } } },
  },
  plans: { orderBy: { version: "desc" }, take: 1, include: { madeBy: { select: { name: true } } } },
  mesh: { select: MESH_FACTS },
  photos: {
    orderBy: { takenAt: "asc" },
    select: { id: true, moment: true, caption: true, takenAt: true, widthPx: true, heightPx: true },
  },
  dips: {
    orderBy: { run: { startsAt: "desc" } },
    select: {
      result: true,
      resultNote: true,
      run: {
        select: {
          id: true,
          number: true,
          state: true,
          startsAt: true,
          endsAt: true,
          tank: { select: { name: true } },
        },
      },
    },
  },
} as const satisfies Prisma.PartInclude;

type FullPart = Prisma.PartGetPayload<{ include: typeof PART }>;

export type PartRow = Omit<FullPart, "verdicts" | "plans" | "reliefBakes" | keyof PartDescription> &
  PartDescription & {
    readonly verdict: VerdictRow | null;
    readonly plan: PlanRow | null;
    /** The newest relief bake that a pulling asked for, done or not. */
    readonly bake: FullPart["reliefBakes"][number] | null;
  };

/** The part with its newest verdict and plan; null where there is none. */
export async function findPart(db: Db, id: string): Promise<PartRow | null> {
  const row = await db.part.findUnique({ where: { id }, include: PART });
  if (!row) return null;
  const { verdicts, plans, reliefBakes, ...part } = row;
  // Codes and results were made by lib/treatment and are stored as they were.
  return {
    ...part,
    verdict: (verdicts[0] as unknown as VerdictRow | undefined) ?? null,
    plan: (plans[0] as unknown as PlanRow | undefined) ?? null,
    bake: reliefBakes[0] ?? null,
  } as unknown as PartRow;
}

/** Locks the part's row and reads it again under the lock. */
export async function lockPart(db: Db, id: string): Promise<PartRow | null> {
  await db.$queryRaw`SELECT "id" FROM "part" WHERE "id" = ${id}::uuid FOR UPDATE`;
  return findPart(db, id);
}

/** Marks that the parts of a job carry. */
export async function marksOfJob(db: Db, jobId: string): Promise<readonly string[]> {
  const rows = await db.part.findMany({ where: { jobId }, select: { mark: true } });
  return rows.map(({ mark }) => mark);
}

/** @returns its id */
export async function insertPart(
  db: Db,
  part: PartInput & { readonly jobId: string; readonly mark: string; readonly createdAt: Date },
): Promise<string> {
  const data = { ...part, coatings: [...part.coatings], hazards: [...part.hazards] };
  const row = await db.part.create({ data, select: { id: true } });
  return row.id;
}

/** Writes what is said of a part; its mark and state stay. */
export async function updatePart(db: Db, id: string, part: PartInput): Promise<void> {
  const data = { ...part, coatings: [...part.coatings], hazards: [...part.hazards] };
  await db.part.update({ where: { id }, data });
}

/** Keeps the goal that a plan was made for. */
export async function setPartGoal(
  db: Db,
  id: string,
  goal: PartDescription["goal"],
): Promise<void> {
  await db.part.update({ where: { id }, data: { goal } });
}

/** Moves a part on, if it still is in one of the states it is expected in: the count says whether it was. */
export async function movePart(
  db: Db,
  id: string,
  from: readonly PartState[],
  to: PartState,
): Promise<boolean> {
  const { count } = await db.part.updateMany({
    where: { id, state: { in: [...from] } },
    data: { state: to },
  });
  return count === 1;
}

/** The same for all the parts of a job that are in one of the states. */
export async function movePartsOfJob(
  db: Db,
  jobId: string,
  from: readonly PartState[],
  to: PartState,
): Promise<void> {
  await db.part.updateMany({ where: { jobId, state: { in: [...from] } }, data: { state: to } });
}

/** Whether a part is on a quote that the customer holds or has accepted. */
export async function isOffered(db: Db, id: string): Promise<boolean> {
  const lines = await db.quoteLine.count({
    where: { partId: id, option: { version: { state: { in: ["SENT", "ACCEPTED"] } } } },
  });
  return lines > 0;
}

/** Removes a part that nothing happened to yet, with its verdicts, plans and photos. */
export async function deletePart(db: Db, id: string): Promise<void> {
  await db.verdict.deleteMany({ where: { partId: id } });
  await db.plan.deleteMany({ where: { partId: id } });
  await db.reliefBake.deleteMany({ where: { partId: id } });
  await db.labourEntry.updateMany({ where: { partId: id }, data: { partId: null } });
  await db.part.delete({ where: { id } });
}

/** Keeps one more verdict; earlier ones stay. @returns its id */
export async function insertVerdict(
  db: Db,
  verdict: {
    readonly partId: string;
    readonly decidedAt: Date;
    readonly decidedById: string;
    readonly outcome: SuitabilityVerdict["outcome"];
    readonly findings: SuitabilityVerdict;
    readonly overruled?: boolean;
    readonly overruleReason?: string;
  },
): Promise<string> {
  const findings = verdict.findings as unknown as Prisma.InputJsonValue;
  const row = await db.verdict.create({ data: { ...verdict, findings }, select: { id: true } });
  return row.id;
}

/** Keeps one more plan as the newest version; earlier ones stay. */
export async function insertPlan(
  db: Db,
  plan: Omit<Plan, "id" | "version" | "result"> & { readonly result: TreatmentPlan },
): Promise<{ id: string; version: number }> {
  const last = await db.plan.aggregate({ where: { partId: plan.partId }, _max: { version: true } });
  // The unique key (part, version) refuses a second plan made at the same moment.
  return db.plan.create({
    data: {
      ...plan,
      version: (last._max.version ?? 0) + 1,
      result: plan.result,
    },
    select: { id: true, version: true },
  });
}
