import { type Actor, requirePermission } from "@/lib/access";
import {
  anyMoneyStored,
  type ClosedDayRow,
  deleteClosedDay,
  deleteSpecialOpening,
  findShop,
  inTransaction,
  insertClosedDay,
  insertRateCard,
  insertSpecialOpening,
  listClosedDays,
  listOpeningHours,
  listRateCards,
  listSpecialOpenings,
  type NewRateCard,
  type OpeningSpan,
  type RateCardRow,
  reading,
  recordAudit,
  replaceOpeningHours,
  type ShopRow,
  type SpecialOpeningRow,
  updateShop,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkRateCard } from "@/lib/pricing";
import { calendarDay } from "../calendar";
import { checkPlace } from "./place";

export type ShopSettings = {
  readonly shop: ShopRow;
  readonly hours: readonly OpeningSpan[];
  readonly closedDays: readonly ClosedDayRow[];
  readonly specialOpenings: readonly SpecialOpeningRow[];
  readonly rateCards: readonly RateCardRow[];
  readonly currencyLocked: boolean;
};

/** Everything the owner can set. @throws Refusal not-allowed | not-found */
export async function shopSettingsFor(actor: Actor, now: Date): Promise<ShopSettings> {
  requirePermission(actor, "set-up-shop");
  return reading(async (db) => {
    const shop = await findShop(db);
    if (!shop) throw new Refusal("not-found", "The shop has not been opened yet.");
    const today = calendarDay(now, shop.timeZone);
    const [hours, closedDays, specialOpenings, rateCards, currencyLocked] = await Promise.all([
      listOpeningHours(db),
      listClosedDays(db, today),
      listSpecialOpenings(db, today),
      listRateCards(db),
      anyMoneyStored(db),
    ]);
    return { shop, hours, closedDays, specialOpenings, rateCards, currencyLocked };
  });
}

/** @throws Refusal not-allowed | invalid | conflict */
export async function changeShop(
  actor: Actor,
  change: Partial<Omit<ShopRow, "isExample">>,
  now: Date,
): Promise<void> {
  requirePermission(actor, "set-up-shop");
  await inTransaction(async (db) => {
    const before = await findShop(db);
    if (before) checkPlace({ ...before, ...change });
    const currency = change.currency ?? before?.currency;
    if (before && before.currency !== currency && (await anyMoneyStored(db))) {
      throw new Refusal("conflict", "The currency cannot change once amounts are stored in it.", {
        currency: `Stays ${before.currency}.`,
      });
    }
    await updateShop(db, change);
    await audit(db, actor, now, "shop.changed");
  });
}

/** Replaces the week's opening hours. Spans of one day must not overlap. @throws Refusal not-allowed | invalid */
export async function setOpeningHours(
  actor: Actor,
  spans: readonly OpeningSpan[],
  now: Date,
): Promise<void> {
  requirePermission(actor, "set-up-shop");
  spans.forEach((span, at) => checkSpan(span, spans.slice(at + 1)));
  await inTransaction(async (db) => {
    await replaceOpeningHours(db, spans);
    await audit(db, actor, now, "shop.hours-set");
  });
}

const MINUTES_A_DAY = 1440;

function checkSpan(span: OpeningSpan, later: readonly OpeningSpan[]): void {
  const { weekday, opensMinute, closesMinute } = span;
  const isReal =
    [weekday, opensMinute, closesMinute].every(Number.isInteger) &&
    weekday >= 1 &&
    weekday <= 7 &&
    opensMinute >= 0 &&
    closesMinute <= MINUTES_A_DAY;
  if (!isReal) throw new Refusal("invalid", "Opening hours are minutes of a day of the week.");
  if (opensMinute >= closesMinute) {
    throw new Refusal("invalid", "Each day must close after it opens.");
  }
  const overlaps = later.some(
    (other) =>
      other.weekday === span.weekday &&
      other.opensMinute < span.closesMinute &&
      span.opensMinute < other.closesMinute,
  );
  if (overlaps) throw new Refusal("invalid", "Two spans of one day overlap.");
}

/** @throws Refusal not-allowed */
export async function closeDay(actor: Actor, closed: ClosedDayRow, now: Date): Promise<void> {
  requirePermission(actor, "set-up-shop");
  await inTransaction(async (db) => {
    await insertClosedDay(db, closed);
    await audit(db, actor, now, "shop.day-closed");
  });
}

/** Opens a day again that was to be closed. @throws Refusal not-allowed */
export async function reopenDay(actor: Actor, day: Date, now: Date): Promise<void> {
  requirePermission(actor, "set-up-shop");
  await inTransaction(async (db) => {
    await deleteClosedDay(db, day);
    await audit(db, actor, now, "shop.day-opened");
  });
}

/**
 * Gives one day hours of its own, such as an open Saturday. Two spans of a day must not overlap.
 * @throws Refusal not-allowed | invalid
 */
export async function openSpecially(
  actor: Actor,
  opening: Omit<SpecialOpeningRow, "id">,
  now: Date,
): Promise<void> {
  requirePermission(actor, "set-up-shop");
  const asSpan = (one: Omit<SpecialOpeningRow, "id">): OpeningSpan => ({ ...one, weekday: 1 });
  await inTransaction(async (db) => {
    const sameDay = (await listSpecialOpenings(db, opening.day)).filter(
      ({ day, opensMinute }) =>
        day.getTime() === opening.day.getTime() && opensMinute !== opening.opensMinute,
    );
    checkSpan(asSpan(opening), sameDay.map(asSpan));
    await insertSpecialOpening(db, opening);
    await audit(db, actor, now, "shop.opened-specially");
  });
}

/** The day keeps its weekday's hours again. @throws Refusal not-allowed */
export async function endSpecialOpening(actor: Actor, id: string, now: Date): Promise<void> {
  requirePermission(actor, "set-up-shop");
  await inTransaction(async (db) => {
    await deleteSpecialOpening(db, id);
    await audit(db, actor, now, "shop.special-opening-ended");
  });
}

/** Adds a dated rate card; cards in force before today are history and stay. @throws Refusal not-allowed | invalid | conflict */
export async function addRateCard(actor: Actor, card: NewRateCard, now: Date): Promise<void> {
  requirePermission(actor, "set-rates");
  await inTransaction(async (db) => {
    const shop = await findShop(db);
    if (shop && card.validFrom < calendarDay(now, shop.timeZone)) {
      throw new Refusal("invalid", "A rate card cannot begin in the past.", {
        validFrom: "Choose today or a later day.",
      });
    }
    if (shop) checkRateCard({ ...card, currency: shop.currency });
    await insertRateCard(db, card);
    await audit(db, actor, now, "rates.added");
  });
}

async function audit(
  db: Parameters<typeof recordAudit>[0],
  actor: Actor,
  at: Date,
  action: string,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "shop", subjectId: "1" });
}
