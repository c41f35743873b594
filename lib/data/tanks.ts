/** Tanks with their supply, live anodes and live bath. */
import type { Db } from "./client";
import type { Prisma, Tank, TankKind } from "./generated/client";
import { ANODE_WITH_HISTORY } from "./anodes";

export type { TankKind };

const TANK = {
  marks: { orderBy: { levelMm: "asc" }, select: { levelMm: true, volumeL: true } },
  supply: true,
  anodes: {
    where: { removedAt: null },
    orderBy: { installedAt: "asc" },
    include: ANODE_WITH_HISTORY,
  },
  baths: {
    where: { disposedAt: null },
    include: {
      additions: { orderBy: { at: "asc" } },
      measurements: {
        orderBy: { at: "desc" },
        take: 5,
        include: { measurer: { select: { name: true } } },
      },
    },
  },
} as const satisfies Prisma.TankInclude;

type TankPayload = Prisma.TankGetPayload<{ include: typeof TANK }>;

/** A tank as it stands: `anodes` are those in it now, `bath` is the live one. */
export type TankRow = Omit<TankPayload, "baths"> & {
  readonly bath: TankPayload["baths"][number] | null;
};

/** What the shop says about a tank. Millimetres inside; a round tank carries its diameter as length and width. */
export type TankDescription = Omit<Tank, "id" | "createdAt" | "retiredAt" | "sortOrder"> & {
  /** MEASURED only: litres at levels, rising */
  readonly marks: readonly { readonly levelMm: number; readonly volumeL: number }[];
};

/** Tanks in use in their order on the board; retired ones too where asked for. */
export async function listTanks(
  db: Db,
  { withRetired = false }: { readonly withRetired?: boolean } = {},
): Promise<readonly TankRow[]> {
  const rows = await db.tank.findMany({
    where: withRetired ? {} : { retiredAt: null },
    orderBy: [{ sortOrder: "asc" }, { name: "asc" }],
    include: TANK,
  });
  return rows.map(asTankRow);
}

export async function findTank(db: Db, tankId: string): Promise<TankRow | null> {
  const row = await db.tank.findUnique({ where: { id: tankId }, include: TANK });
  return row && asTankRow(row);
}

/**
 * The tank, locked to the end of the transaction: lines up those who mix, dispose, load, pull or change anodes.
 * NO KEY, so that a booking that only refers to the tank need not wait.
 */
export async function lockTank(db: Db, tankId: string): Promise<TankRow | null> {
  await db.$queryRaw`SELECT "id" FROM "tank" WHERE "id" = ${tankId}::uuid FOR NO KEY UPDATE`;
  return findTank(db, tankId);
}

/** @returns its id */
export async function insertTank(db: Db, tank: TankDescription, createdAt: Date): Promise<string> {
  const { marks, ...columns } = tank;
  const last = await db.tank.aggregate({ _max: { sortOrder: true } });
  const row = await db.tank.create({
    data: {
      ...columns,
      createdAt,
      sortOrder: (last._max.sortOrder ?? 0) + 1,
      marks: { create: [...marks] },
    },
    select: { id: true },
  });
  return row.id;
}

/** Changes what is said about a tank; its measured levels are written anew. */
export async function updateTank(db: Db, tankId: string, tank: TankDescription): Promise<void> {
  const { marks, ...columns } = tank;
  await db.tankLevelMark.deleteMany({ where: { tankId } });
  await db.tank.update({
    where: { id: tankId },
    data: { ...columns, marks: { create: [...marks] } },
  });
}

export async function setTankRetired(
  db: Db,
  tankId: string,
  retiredAt: Date | null,
): Promise<void> {
  await db.tank.update({ where: { id: tankId }, data: { retiredAt } });
}

function asTankRow({ baths, ...tank }: TankPayload): TankRow {
  return { ...tank, bath: baths[0] ?? null };
}
