import type { Db } from "./client";

export type ShopRow = {
  readonly name: string;
  readonly address: string;
  readonly email: string;
  readonly phone: string;
  readonly timeZone: string;
  readonly currency: string;
  readonly locale: string;
  readonly unitSystem: "METRIC" | "US";
  readonly workshopTempC: number;
  readonly roomVolumeM3: number;
  /** relative, in the workshop */
  readonly humidityPercent: number;
  /** from pulling to the start of a relief bake */
  readonly bakeStartMinutes: number;
  /** people at the bench at once */
  readonly hands: number;
  /** charge after which a bath is taken to be spent */
  readonly bathLifeAhPerL: number;
  readonly quoteValidDays: number;
  readonly quoteTerms: string;
  /** as it must stand on statements */
  readonly taxNumber: string;
  /** from a statement to the day it is due */
  readonly paymentDays: number;
  readonly paymentTerms: string;
  readonly bankDetails: string;
  /** % of a total that is asked before work begins */
  readonly quoteDepositPercent: number;
  readonly isExample: boolean;
};
const SHOP = {
  name: true,
  address: true,
  email: true,
  phone: true,
  timeZone: true,
  currency: true,
  locale: true,
  unitSystem: true,
  workshopTempC: true,
  roomVolumeM3: true,
  humidityPercent: true,
  bakeStartMinutes: true,
  hands: true,
  bathLifeAhPerL: true,
  quoteValidDays: true,
  quoteTerms: true,
  taxNumber: true,
  paymentDays: true,
  paymentTerms: true,
  bankDetails: true,
  quoteDepositPercent: true,
  isExample: true,
} as const;

/** The shop of this installation; null before the first visit. */
export async function findShop(db: Db): Promise<ShopRow | null> {
  return db.shop.findUnique({ where: { id: 1 }, select: SHOP });
}

/** Opens the shop. Its row has the fixed id 1, so of many callers at once the primary key lets one in. */
export async function insertShop(
  db: Db,
  shop: Pick<ShopRow, "name" | "timeZone" | "currency" | "locale" | "unitSystem" | "isExample"> & {
    openedAt: Date;
  },
): Promise<void> {
  await db.shop.create({ data: { id: 1, ...shop } });
}

export async function updateShop(db: Db, change: Partial<ShopRow>): Promise<void> {
  await db.shop.update({ where: { id: 1 }, data: change });
}

/** True once any amount of money is stored: the currency can then no longer change. */
export async function anyMoneyStored(db: Db): Promise<boolean> {
  const [card, version, lot, payment] = await Promise.all([
    db.rateCard.findFirst({ select: { id: true } }),
    db.quoteVersion.findFirst({ select: { id: true } }),
    db.lot.findFirst({ select: { id: true } }),
    db.payment.findFirst({ select: { id: true } }),
  ]);
  return [card, version, lot, payment].some((stored) => stored !== null);
}

// ---------------------------------------------------------------- setup code

export async function keepSetupCode(db: Db, codeHash: string, now: Date): Promise<void> {
  await db.setupCode.upsert({
    where: { id: 1 },
    create: { id: 1, codeHash, createdAt: now },
    update: { codeHash, createdAt: now },
  });
}

/** Uses the code up when it is the right one. */
export async function takeSetupCode(db: Db, codeHash: string): Promise<boolean> {
  const { count } = await db.setupCode.deleteMany({ where: { id: 1, codeHash } });
  return count === 1;
}

// ---------------------------------------------------------------- opening hours and closed days

export type OpeningSpan = {
  readonly weekday: number; // ISO, 1 Monday … 7 Sunday
  readonly opensMinute: number;
  readonly closesMinute: number;
};

export async function listOpeningHours(db: Db): Promise<OpeningSpan[]> {
  return db.openingHours.findMany({
    orderBy: [{ weekday: "asc" }, { opensMinute: "asc" }],
    select: { weekday: true, opensMinute: true, closesMinute: true },
  });
}

export async function replaceOpeningHours(db: Db, spans: readonly OpeningSpan[]): Promise<void> {
  await db.openingHours.deleteMany();
  await db.openingHours.createMany({ data: [...spans] });
}

/** A day the shop is shut, as midnight UTC of its date. */
export type ClosedDayRow = { readonly day: Date; readonly reason: string };

export async function listClosedDays(db: Db, from: Date): Promise<ClosedDayRow[]> {
  return db.closedDay.findMany({ where: { day: { gte: from } }, orderBy: { day: "asc" } });
}

export async function insertClosedDay(db: Db, closed: ClosedDayRow): Promise<void> {
  await db.closedDay.upsert({
    where: { day: closed.day },
    create: closed,
    update: { reason: closed.reason },
  });
}

/** Hours of one day instead of its weekday's; the day as midnight UTC of its date. */
export type SpecialOpeningRow = {
  readonly id: string;
  readonly day: Date;
  readonly opensMinute: number;
  readonly closesMinute: number;
  readonly reason: string;
};

export async function listSpecialOpenings(db: Db, from: Date): Promise<SpecialOpeningRow[]> {
  return db.specialOpening.findMany({
    where: { day: { gte: from } },
    orderBy: [{ day: "asc" }, { opensMinute: "asc" }],
  });
}

/** Gives a day these hours; a second span of the same day stands beside the first. */
export async function insertSpecialOpening(
  db: Db,
  opening: Omit<SpecialOpeningRow, "id">,
): Promise<void> {
  const { day, opensMinute, ...rest } = opening;
  await db.specialOpening.upsert({
    where: { day_opensMinute: { day, opensMinute } },
    create: opening,
    update: rest,
  });
}

export async function deleteSpecialOpening(db: Db, id: string): Promise<void> {
  await db.specialOpening.deleteMany({ where: { id } });
}

export async function deleteClosedDay(db: Db, day: Date): Promise<void> {
  await db.closedDay.deleteMany({ where: { day } });
}
