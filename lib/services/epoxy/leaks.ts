import { type Actor, requirePermission } from "@/lib/access";
import {
  curingUntil,
  type Db,
  findLeak,
  insertLeak,
  inTransaction,
  listLeaks,
  type LeakRow,
  lockTank,
  recordAudit,
  setLeakState,
  findTank,
  reading,
  listItems,
  findEpoxySheet,
  listLots,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { calendarDay } from "../calendar";
import { requireTank } from "../tanks/set-up";
import { type EpoxyPage, goodLots, workshopOf } from "./sheet";

export type FoundLeak = {
  readonly tankId: string;
  /** in words: "seam by the drain" */
  readonly place: string;
  /** mm above the floor, 0 to the rim; null where nobody measured */
  readonly heightMm: number | null;
  readonly severity: LeakRow["severity"];
  readonly note: string;
  /** also the leak's id, so that a repeat is told */
  readonly leakId: string;
};

/** Writes that a tank leaks. @throws Refusal not-allowed | not-found | invalid */
export async function reportLeak(actor: Actor, found: FoundLeak, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, found.tankId);
    const fields: Record<string, string> = {};
    if (found.place.trim() === "") fields["place"] = "Say where, so that it is found again.";
    if (found.heightMm !== null && !(found.heightMm >= 0 && found.heightMm <= tank.depthMm)) {
      fields["heightMm"] = `From the floor to the rim at {${tank.depthMm} mm}.`;
    }
    if (Object.keys(fields).length > 0) {
      throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
    }
    const { leakId, ...leak } = found;
    const row = { ...leak, id: leakId, foundAt: now, foundById: actor.personId };
    if (!(await insertLeak(db, row))) return;
    await auditLeak(db, actor, now, "leak.found", leakId, { severity: found.severity });
  });
}

/** Says that a leak is no more, as water in the tank has shown. @throws Refusal not-allowed | not-found | conflict */
export async function closeLeak(actor: Actor, leakId: string, now: Date): Promise<void> {
  requirePermission(actor, "keep-tanks");
  await inTransaction(async (db) => {
    const leak = await lockedLeak(db, leakId);
    if (leak.state === "CLOSED") return;
    if (leak.patches.some(({ cureUntil }) => cureUntil > now)) {
      throw new Refusal("conflict", "Its patch has not set yet: fill the tank first, then look.");
    }
    const closed = { state: "CLOSED", closedAt: now, closedById: actor.personId } as const;
    await setLeakState(db, leakId, closed);
    await auditLeak(db, actor, now, "leak.closed", leakId, {});
  });
}

/** Says that a leak is there again. @throws Refusal not-allowed | not-found */
export async function reopenLeak(actor: Actor, leakId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const leak = await lockedLeak(db, leakId);
    if (leak.state === "OPEN") return;
    await setLeakState(db, leakId, { state: "OPEN", closedAt: null, closedById: null });
    await auditLeak(db, actor, now, "leak.open-again", leakId, {});
  });
}

/** The leak as it stands, with its tank locked to the end of the transaction. @throws Refusal not-found */
export async function lockedLeak(db: Db, leakId: string): Promise<LeakRow> {
  const found = await findLeak(db, leakId);
  if (found) await lockTank(db, found.tankId);
  // Read anew under the lock: somebody may have changed it while this one waited.
  const leak = found && (await findLeak(db, leakId));
  if (!leak) throw new Refusal("not-found", "This leak is not written down.");
  return leak;
}

export type LeaksPage = {
  readonly tank: { readonly id: string; readonly name: string; readonly hasBath: boolean };
  readonly leaks: readonly LeakRow[];
  readonly total: number;
  /** until when a patch sets; null where none does */
  readonly curing: Date | null;
  /** epoxies with a sheet and something left */
  readonly epoxies: readonly EpoxyPage[];
  readonly workshopC: number;
};

/** The leaks of a tank, and what they can be patched with. @throws Refusal not-allowed | not-found */
export async function leaksPage(
  actor: Actor,
  tankId: string,
  window: { readonly skip: number; readonly take: number },
  now: Date,
): Promise<LeaksPage> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const tank = await findTank(db, tankId);
    if (!tank) throw new Refusal("not-found", "This tank is not in the shop.");
    const { workshopC, timeZone } = await workshopOf(db);
    return {
      tank: { id: tank.id, name: tank.name, hasBath: tank.bath !== null },
      ...(await listLeaks(db, tankId, window)),
      curing: await curingUntil(db, tankId, now),
      epoxies: await epoxiesLeft(db, calendarDay(now, timeZone), workshopC),
      workshopC,
    };
  });
}

async function epoxiesLeft(db: Db, today: Date, workshopC: number): Promise<EpoxyPage[]> {
  const items = (await listItems(db)).filter(({ kind }) => kind === "EPOXY");
  const pages = await Promise.all(
    items.map(async (item) => {
      const sheet = await findEpoxySheet(db, item.id);
      const lots = goodLots(await listLots(db, item.id), sheet, today);
      return { item, sheet, lots, workshopC };
    }),
  );
  return pages.filter(({ sheet, lots }) => sheet && lots.length > 0);
}

export async function auditLeak(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, string | number>>,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "leak", subjectId, detail });
}
