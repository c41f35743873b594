import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type AnodeInUse,
  anodesInUse,
  reading,
  type WearOfRun,
  wearByWeek,
  wearOfAnode,
  type WeekOfWear,
} from "@/lib/data";
import { workedAnodeLife } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import type { Worked } from "@/lib/units";
import { addDays, calendarDay, mondayOf, startOfDay } from "../calendar";
import { requireShop } from "../open-shop";

/** Whole weeks whose wear tells of the weeks to come. */
export const WEAR_WEEKS = 12;
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
    const from = firstWeek(today);
    const [anodes, wear] = await Promise.all([
      anodesInUse(db),
      wearByWeek(db, timeZone, startOfDay(from, timeZone)),
    ]);
    return anodes.map((anode) => asFigure(anode, wear, today)).sort((a, b) => dueAt(a) - dueAt(b));
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
    const [anode] = await anodesInUse(db, anodeId);
    if (!anode) throw new Refusal("not-found", "This anode is not in use.");
    const [wear, { runs, total }] = await Promise.all([
      wearByWeek(db, timeZone, startOfDay(firstWeek(today), timeZone)),
      wearOfAnode(db, anodeId, window),
    ]);
    return { ...asFigure(anode, wear, today), runs, total, seesMoney: may(actor, "see-money") };
  });
}

/** Monday of the first of the whole weeks before this one. */
const firstWeek = (today: Date): Date => addDays(mondayOf(today), -7 * WEAR_WEEKS);

function asFigure(anode: AnodeInUse, wear: readonly WeekOfWear[], today: Date): AnodeFigure {
  const { lostG, lostErrorG } = lossSoFar(anode);
  const weeks = wholeWeeks(anode, wear, today);
  const life = workedAnodeLife({
    initialMassG: anode.initialMassG,
    replaceAtShare: anode.replaceAtShare,
    lostG,
    lostErrorG,
    weeklyLossesG: weeks.map(({ lossG }) => lossG),
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
  const own = new Map(
    wear
      .filter(({ anodeId }) => anodeId === anode.id)
      .map(({ week, lossG }) => [week.getTime(), lossG]),
  );
  const weeks = Array.from({ length: WEAR_WEEKS }, (_, index) =>
    addDays(firstWeek(today), 7 * index),
  );
  return weeks
    .filter((week) => addDays(week, 7) > anode.installedAt)
    .map((week) => ({ week, lossG: own.get(week.getTime()) ?? 0 }));
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
