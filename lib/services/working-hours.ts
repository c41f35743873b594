import {
  type Db,
  findShop,
  listClosedDays,
  listOpeningHours,
  listSpecialOpenings,
  rateCardOn,
} from "@/lib/data";
import { labourRate } from "@/lib/pricing";
import type { ShopCalendar } from "@/lib/scheduling";
import { addDays, calendarDay, dateText } from "./calendar";

/** Earlier closed days no longer matter to anything that can still be booked or moved. */
const CLOSED_DAYS_BACK = 60;

/** When somebody is there to load and pull. UTC and no hours while no shop is open. */
export async function workingHours(db: Db, now: Date): Promise<ShopCalendar> {
  // One after the other: inside a transaction there is one connection.
  const shop = await findShop(db);
  const hours = await listOpeningHours(db);
  const closed = await listClosedDays(db, addDays(now, -CLOSED_DAYS_BACK));
  const special = await listSpecialOpenings(db, addDays(now, -CLOSED_DAYS_BACK));
  return {
    timeZone: shop?.timeZone ?? "UTC",
    hours,
    closedDays: closed.map(({ day }) => dateText(day)),
    specialHours: special.map(({ day, opensMinute, closesMinute }) => ({
      day: dateText(day),
      opensMinute,
      closesMinute,
    })),
  };
}

/** What bench work takes and costs. */
export type BenchTimes = {
  /** minor units an hour of each task at the bench */
  readonly labourMinor: Readonly<Record<"load" | "pull" | "finish", number>>;
  readonly loadMinutes: number;
  readonly pullMinutes: number;
  readonly finishMinutesPerM2: number;
  /** people at the bench at once */
  readonly hands: number;
};

/** Usual minutes while no rate card holds: those a rate card itself starts from. Labour then costs nothing yet. */
const WITHOUT_CARD: Omit<BenchTimes, "hands"> = {
  labourMinor: { load: 0, pull: 0, finish: 0 },
  loadMinutes: 15,
  pullMinutes: 10,
  finishMinutesPerM2: 60,
};

/** Bench minutes and labour rate by the card in force on the shop's day at `now`. */
export async function benchTimes(db: Db, timeZone: string, now: Date): Promise<BenchTimes> {
  const card = await rateCardOn(db, calendarDay(now, timeZone));
  const hands = (await findShop(db))?.hands ?? 1;
  if (!card) return { ...WITHOUT_CARD, hands };
  return {
    hands,
    labourMinor: {
      load: labourRate(card, "load"),
      pull: labourRate(card, "pull"),
      finish: labourRate(card, "finish"),
    },
    loadMinutes: card.loadMinutesPerRun,
    pullMinutes: card.pullMinutesPerRun,
    finishMinutesPerM2: card.finishMinutesPerM2,
  };
}
