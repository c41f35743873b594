import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type AnodeInUse,
  anodesInUse,
  bookedChargeByWeek,
  reading,
  type WearOfRun,
  wearByWeek,
  wearOfAnode,
  type WeekOfCharge,
  type WeekOfWear,
} from "@/lib/data";
import { anodeMassDissolved, workedAnodeLife } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { ampereHours, type Worked } from "@/lib/units";
import { addDays, calendarDay, startOfDay } from "../calendar";
import { requireShop } from "../open-shop";
import { firstWeekOf, WEEKS_BEHIND, weeksAhead, weeksBehind } from "../weeks";

export { WEEKS_BEHIND as WEAR_WEEKS };
/** Dates further off than this are not worth telling, weeks: about four years. */
const FAR_WEEKS = 200;

export type WearWeek = { readonly week: Date; readonly lossG: number };

/** One anode: what it lost, how fast, and when it is due. */
export type AnodeFigure = {
  readonly anode: AnodeInUse;
  readonly lostG: number;
  /** of the mass when new, 0 to 1 */
  readonly lostShare: number;
  /** oldest first, idle weeks too */
  readonly weeks: readonly WearWeek[];
  /** null where it did not wear in those weeks */
  readonly life: Worked | null;
  /** the day it is due, with the days that are as likely as one in ten to be too late or too early; null as `life` */
  readonly replaceBy: { readonly p10: Date; readonly p50: Date; readonly p90: Date | null } | null;
};

/**
 * Wear of every anode in use, the soonest due first.
 *
 * @throws Refusal not-allowed
 */
export async function anodeFigures(actor: Actor, now: Date): Promise<readonly AnodeFigure[]> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { timeZone } = await requireShop(db);
    const today = calendarDay(now, timeZone);
    const from = startOfDay(firstWeekOf(today), timeZone);
    const [anodes, wear, booked] = await Promise.all([
      anodesInUse(db),
      wearByWeek(db, timeZone, from),
      bookedChargeByWeek(db, timeZone),
    ]);
    return anodes
      .map((anode) => asFigure(anode, wear, bookedLosses(anode, anodes, booked, today), today))
      .sort((a, b) => dueAt(a) - dueAt(b));
  });
}

const dueAt = ({ replaceBy }: AnodeFigure): number =>
  replaceBy?.p50.getTime() ?? Number.POSITIVE_INFINITY;

export type AnodePage = AnodeFigure & {
  readonly runs: readonly WearOfRun[];
  readonly total: number;
  readonly seesMoney: boolean;
};

/** One anode with the runs that wore it. @throws Refusal not-allowed | not-found */
export async function anodePage(
  actor: Actor,
  anodeId: string,
  window: { readonly skip: number; readonly take: number },
  now: Date,
): Promise<AnodePage> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { timeZone } = await requireShop(db);
    const today = calendarDay(now, timeZone);
    const anodes = await anodesInUse(db);
    const anode = anodes.find(({ id }) => id === anodeId);
    if (!anode) throw new Refusal("not-found", "This anode is not in use.");
    const [wear, booked, { runs, total }] = await Promise.all([
      wearByWeek(db, timeZone, startOfDay(firstWeekOf(today), timeZone)),
      bookedChargeByWeek(db, timeZone),
      wearOfAnode(db, anodeId, window),
    ]);
    const figure = asFigure(anode, wear, bookedLosses(anode, anodes, booked, today), today);
    return { ...figure, runs, total, seesMoney: may(actor, "see-money") };
  });
}

/** Iron that the runs booked in an anode's tank will take from it: its share by area, its own φ, Faraday's law. */
function bookedLosses(
  anode: AnodeInUse,
  anodes: readonly AnodeInUse[],
  booked: readonly WeekOfCharge[],
  today: Date,
): readonly number[] {
  const inTank = anodes.filter(({ tankId }) => tankId === anode.tankId);
  const areaM2 = inTank.reduce((sum, { wettedAreaM2 }) => sum + wettedAreaM2, 0);
  return weeksAhead(
    booked.filter(({ tankId }) => tankId === anode.tankId),
    today,
    ({ chargeAh }) =>
      anodeMassDissolved(ampereHours((chargeAh * anode.wettedAreaM2) / areaM2), anode.lossFactor),
  );
}

function asFigure(
  anode: AnodeInUse,
  wear: readonly WeekOfWear[],
  bookedLossesG: readonly number[],
  today: Date,
): AnodeFigure {
  const { lostG, lostErrorG } = lossSoFar(anode);
  const weeks = wholeWeeks(anode, wear, today);
  const life = workedAnodeLife({
    initialMassG: anode.initialMassG,
    replaceAtShare: anode.replaceAtShare,
    lostG,
    lostErrorG,
    weeklyLossesG: weeks.map(({ lossG }) => lossG),
    bookedLossesG,
    thickness:
      anode.thicknessMm !== null && anode.leastThicknessMm !== null
        ? { newMm: anode.thicknessMm, leastMm: anode.leastThicknessMm }
        : null,
    lossFactorErrorShare: errorShare(anode),
  });
  return {
    anode,
    lostG,
    lostShare: lostG / anode.initialMassG,
    weeks,
    life,
    replaceBy: life && datesOf(life, today),
  };
}

/** What the scale said last, and by Faraday's law since: the law's error is that of the loss factor. */
function lossSoFar(anode: AnodeInUse): { lostG: number; lostErrorG: number } {
  const weighed = anode.lastWeighing;
  const byScale = weighed ? Math.max(0, anode.initialMassG - weighed.massG) : 0;
  return {
    lostG: byScale + anode.lossSinceG,
    lostErrorG: Math.hypot(weighed?.errorG ?? 0, anode.lossSinceG * errorShare(anode)),
  };
}

const errorShare = ({ lossFactor, lossFactorError }: AnodeInUse): number =>
  lossFactor > 0 ? lossFactorError / lossFactor : 0;

/** The whole weeks behind us in which the anode hung, idle ones with no loss. */
function wholeWeeks(anode: AnodeInUse, wear: readonly WeekOfWear[], today: Date): WearWeek[] {
  const own = wear.filter(({ anodeId }) => anodeId === anode.id);
  return weeksBehind(own, today, anode.installedAt, ({ lossG }) => lossG).map(
    ({ week, value }) => ({ week, lossG: value }),
  );
}

function datesOf(life: Worked, today: Date): NonNullable<AnodeFigure["replaceBy"]> {
  const after = (weeks: number): Date => addDays(today, Math.round(7 * Math.min(weeks, FAR_WEEKS)));
  const late = life.high ?? life.value;
  return {
    p10: after(life.low ?? life.value),
    p50: after(life.value),
    p90: late > FAR_WEEKS ? null : after(late),
  };
}
