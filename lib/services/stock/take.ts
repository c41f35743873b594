import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findUsePlace,
  inTransaction,
  listLots,
  listUsePlaces,
  reading,
  recordAudit,
  type UseKind,
  type UsePlace,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { expiringLots } from "@/lib/stock";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { consumeStock } from "./consume";

export { USE_KINDS } from "@/lib/data";
export type { UseKind, UsePlace };

export type HandUse = {
  readonly itemId: string;
  /** in the item's unit, above 0 */
  readonly quantity: number;
  /** what it was for; null for the shop itself, which then says why in the note */
  readonly usedFor: { readonly kind: UseKind; readonly id: string } | null;
  readonly note: string;
  readonly idempotencyKey?: string | undefined;
};

export type HandUsed = {
  /** what it cost, whole minor units */
  readonly costMinor: number;
  /** how many days ago the oldest of what was taken was last good; null where all of it was */
  readonly expiredDays: number | null;
};

/**
 * Takes stock from the shelf for a load, a job, a tank, or the shop itself, in the order in which lots are drawn on.
 * What expired is taken all the same, since it may be all there is; the answer tells of it. A repeat under one key
 * takes nothing more.
 *
 * Salt taken for a tank counts in what its bath cost, as a top-up does; the bath's own books of carbonate are kept on
 * the tank's page only.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | not-enough-stock
 */
export async function takeByHand(actor: Actor, use: HandUse, now: Date): Promise<HandUsed> {
  requirePermission(actor, "keep-stock");
  const { usedFor, ...rest } = use;
  if (!usedFor && use.note.trim() === "") {
    throw new Refusal("invalid", "Say what it was used for.", {
      note: "Say what for, where it is no load, job or tank.",
    });
  }
  return inTransaction(async (db) => {
    const place = usedFor ? await requirePlace(db, usedFor.kind, usedFor.id) : null;
    const taken = await consumeStock(db, {
      ...rest,
      ...(place && { [`${place.kind}Id`]: place.id }),
      note: use.note.trim() || `taken for ${place?.name ?? "the shop"}`,
      at: now,
      enteredById: actor.personId,
    });
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.taken",
      subjectType: "item",
      subjectId: use.itemId,
      detail: { quantity: use.quantity, costMinor: taken.costMinor, for: place?.name ?? "shop" },
    });
    const lotIds = taken.lots.map(({ lotId }) => lotId);
    return { costMinor: taken.costMinor, expiredDays: await expired(db, use.itemId, lotIds, now) };
  });
}

async function requirePlace(db: Db, kind: UseKind, id: string): Promise<UsePlace> {
  const place = await findUsePlace(db, kind, id);
  if (!place) throw new Refusal("not-found", `This ${kind} is not in the shop.`);
  if (!place.open) {
    throw new Refusal("conflict", `${place.name}: nothing can be written on it any more.`, {
      usedFor: "Choose what is in hand.",
    });
  }
  return place;
}

/** Days since the oldest of these lots was last good; null where all are. */
async function expired(
  db: Db,
  itemId: string,
  lotIds: readonly string[],
  now: Date,
): Promise<number | null> {
  const [lots, shop] = await Promise.all([listLots(db, itemId), requireShop(db)]);
  const drawn = lots.filter(({ id }) => lotIds.includes(id)).map((lot) => ({ ...lot, onHand: 1 }));
  const [first] = expiringLots(drawn, calendarDay(now, shop.timeZone), -1);
  return first ? -first.daysLeft : null;
}

/** How far back loads are offered, days. */
const RECENT_DAYS = 30;

/** What stock may be taken for: recent loads, jobs in hand, tanks in use. @throws Refusal not-allowed */
export async function placesInHand(actor: Actor, now: Date): Promise<readonly UsePlace[]> {
  requirePermission(actor, "see-shop");
  const since = new Date(now.getTime() - RECENT_DAYS * 86_400_000);
  return reading((db) => listUsePlaces(db, since));
}
