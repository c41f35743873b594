/** Rows behind the figures of the shop: tanks in use over time, and anodes as they wear. */
import type { Db } from "./client";
import type { AnodePlace, RunState } from "./generated/client";

/** A span in which a tank was or will be held by a load. */
export type TankSpan = {
  readonly runId: string;
  readonly runNumber: number;
  readonly state: RunState;
  readonly tankId: string;
  readonly from: Date;
  readonly to: Date;
};

/**
 * The loads whose spans reach into a window: what was loaded from loading to pulling, what is booked as booked, and
 * what still runs until at least `now`.
 */
export async function tankSpans(
  db: Db,
  window: { readonly from: Date; readonly to: Date },
  now: Date,
): Promise<readonly TankSpan[]> {
  const runs = await db.run.findMany({
    where: {
      state: { not: "CANCELLED" },
      OR: [
        { endsAt: { gt: window.from } },
        { pulledAt: { gt: window.from } },
        { state: "RUNNING" },
      ],
      startsAt: { lt: window.to },
    },
    orderBy: { startsAt: "asc" },
  });
  return runs.map((run) => {
    const end = run.pulledAt ?? run.endsAt;
    return {
      runId: run.id,
      runNumber: run.number,
      state: run.state,
      tankId: run.tankId,
      from: run.loadedAt ?? run.startsAt,
      to: run.state === "RUNNING" && end < now ? now : end,
    };
  });
}

export type TankName = { readonly id: string; readonly name: string; readonly createdAt: Date };

/** The tanks in use, in the shop's order. */
export async function tankNames(db: Db): Promise<readonly TankName[]> {
  return db.tank.findMany({
    where: { retiredAt: null },
    orderBy: [{ sortOrder: "asc" }, { name: "asc" }],
    select: { id: true, name: true, createdAt: true },
  });
}

/** One anode in use and what is known of its mass. */
export type AnodeInUse = {
  readonly id: string;
  readonly name: string;
  readonly place: AnodePlace;
  readonly tankId: string;
  readonly tankName: string;
  readonly installedAt: Date;
  readonly initialMassG: number;
  readonly replaceAtShare: number;
  readonly wettedAreaM2: number;
  /** of the sheet when new, and the least it may wear to; null where it is judged by its mass alone */
  readonly thicknessMm: number | null;
  readonly leastThicknessMm: number | null;
  readonly lossFactor: number;
  readonly lossFactorError: number;
  readonly lastWeighing: {
    readonly at: Date;
    readonly massG: number;
    readonly errorG: number;
  } | null;
  /** by Faraday's law, from runs pulled after the last weighing (all runs where there is none) */
  readonly lossSinceG: number;
  readonly chargeAh: number;
};

/** Anodes that hang in tanks in use, by tank; one alone where asked for. */
export async function anodesInUse(db: Db, anodeId?: string): Promise<readonly AnodeInUse[]> {
  const anodes = await db.anode.findMany({
    where: { removedAt: null, tank: { retiredAt: null }, ...(anodeId && { id: anodeId }) },
    orderBy: [{ tank: { sortOrder: "asc" } }, { tank: { name: "asc" } }, { name: "asc" }],
    include: {
      tank: { select: { name: true } },
      weighings: { orderBy: { at: "desc" }, take: 1 },
      wear: { select: { lossG: true, chargeAh: true, run: { select: { pulledAt: true } } } },
    },
  });
  return anodes.map((anode) => {
    const weighing = anode.weighings[0] ?? null;
    const since = weighing?.at ?? anode.installedAt;
    return {
      id: anode.id,
      name: anode.name,
      place: anode.place,
      tankId: anode.tankId,
      tankName: anode.tank.name,
      installedAt: anode.installedAt,
      initialMassG: anode.initialMassG,
      replaceAtShare: anode.replaceAtShare,
      wettedAreaM2: anode.wettedAreaM2,
      thicknessMm: anode.thicknessMm,
      leastThicknessMm: anode.leastThicknessMm,
      lossFactor: anode.lossFactor,
      lossFactorError: anode.lossFactorError,
      lastWeighing: weighing && { at: weighing.at, massG: weighing.massG, errorG: weighing.errorG },
      lossSinceG: total(
        anode.wear.filter(({ run }) => run.pulledAt !== null && run.pulledAt > since),
        ({ lossG }) => lossG,
      ),
      chargeAh: total(anode.wear, ({ chargeAh }) => chargeAh),
    };
  });
}

function total<Row>(rows: readonly Row[], value: (row: Row) => number): number {
  return rows.reduce((sum, row) => sum + value(row), 0);
}

export type WeekOfWear = {
  readonly anodeId: string;
  /** Monday of the week in the shop's zone, as midnight UTC */
  readonly week: Date;
  readonly lossG: number;
  readonly chargeAh: number;
};

/** What each anode lost in each week that it was used in, from `since` on. */
export async function wearByWeek(
  db: Db,
  timeZone: string,
  since: Date,
): Promise<readonly WeekOfWear[]> {
  return db.$queryRaw<WeekOfWear[]>`
    SELECT w."anode_id"::text AS "anodeId",
           date_trunc('week', r."pulled_at" AT TIME ZONE ${timeZone})::date AS "week",
           sum(w."loss_g") AS "lossG",
           sum(w."charge_ah") AS "chargeAh"
      FROM "anode_wear" w JOIN "run" r ON r."id" = w."run_id"
     WHERE r."pulled_at" >= ${since}
     GROUP BY 1, 2
     ORDER BY 2, 1`;
}

export type WearOfRun = {
  readonly runId: string;
  readonly runNumber: number;
  readonly pulledAt: Date | null;
  readonly chargeAh: number;
  readonly lossG: number;
  readonly costMinor: number;
};

/** The runs that wore one anode, newest first. */
export async function wearOfAnode(
  db: Db,
  anodeId: string,
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly runs: readonly WearOfRun[]; readonly total: number }> {
  const [count, rows] = await Promise.all([
    db.anodeWear.count({ where: { anodeId } }),
    db.anodeWear.findMany({
      where: { anodeId },
      skip,
      take,
      orderBy: { run: { number: "desc" } },
      include: { run: { select: { number: true, pulledAt: true } } },
    }),
  ]);
  const runs = rows.map(({ runId, run, chargeAh, lossG, costMinor }) => ({
    runId,
    runNumber: run.number,
    pulledAt: run.pulledAt,
    chargeAh,
    lossG,
    costMinor,
  }));
  return { runs, total: count };
}
