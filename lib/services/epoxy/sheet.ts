import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  type EpoxySheetRow,
  findEpoxySheet,
  findShop,
  inTransaction,
  type ItemRow,
  listLots,
  type LotRow,
  reading,
  recordAudit,
  saveEpoxySheetRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { epoxyFaults, type EpoxySheet } from "@/lib/stock";
import { addDays, calendarDay } from "../calendar";
import { requireItem } from "../stock/items";

/** What the maker's sheet says, with how long a delivery keeps; null where the sheet does not say. */
export type SheetOfItem = EpoxySheet & { readonly shelfLifeDays: number | null };

/**
 * Writes what the maker's sheet of an epoxy says.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function describeEpoxy(
  actor: Actor,
  itemId: string,
  sheet: SheetOfItem,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    await requireEpoxy(db, itemId);
    const fields: Record<string, string> = { ...epoxyFaults(sheet) };
    const { shelfLifeDays } = sheet;
    if (shelfLifeDays !== null && !(Number.isInteger(shelfLifeDays) && shelfLifeDays > 0)) {
      fields["shelfLifeDays"] = "Whole days, 1 or more.";
    }
    if (Object.keys(fields).length > 0) {
      throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
    }
    await saveEpoxySheetRow(db, { ...sheet, itemId });
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.epoxy-described",
      subjectType: "item",
      subjectId: itemId,
      detail: { potLifeMin: sheet.potLifeMin, cureHours: sheet.cureHours },
    });
  });
}

/** A delivery of epoxy and whether it is still good. */
export type EpoxyLot = {
  readonly lot: LotRow;
  /** last good day, as midnight UTC: the delivery's own, or its age by the sheet; null where neither is known */
  readonly goodUntil: Date | null;
  readonly isExpired: boolean;
};

export type EpoxyPage = {
  readonly item: ItemRow;
  /** null where nobody has copied the maker's sheet yet */
  readonly sheet: EpoxySheetRow | null;
  /** what is left of it, oldest first */
  readonly lots: readonly EpoxyLot[];
  /** °C of the workshop */
  readonly workshopC: number;
};

/** An epoxy, its sheet and what is left of it. @throws Refusal not-allowed | not-found */
export async function epoxyPage(actor: Actor, itemId: string, now: Date): Promise<EpoxyPage> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const item = await requireEpoxy(db, itemId);
    const sheet = await findEpoxySheet(db, itemId);
    const { workshopC, timeZone } = await workshopOf(db);
    const lots = await listLots(db, itemId);
    return { item, sheet, workshopC, lots: goodLots(lots, sheet, calendarDay(now, timeZone)) };
  });
}

/** What is left, oldest first, with its last good day. */
export function goodLots(
  lots: readonly LotRow[],
  sheet: EpoxySheetRow | null,
  today: Date,
): readonly EpoxyLot[] {
  const shelfDays = sheet?.shelfLifeDays ?? null;
  return lots
    .filter(({ onHand }) => onHand > 0)
    .map((lot) => {
      const goodUntil = lot.expiresOn ?? lastDayByAge(lot, shelfDays);
      return { lot, goodUntil, isExpired: goodUntil !== null && goodUntil < today };
    });
}

function lastDayByAge({ receivedAt }: LotRow, shelfDays: number | null): Date | null {
  return shelfDays === null ? null : calendarDay(addDays(receivedAt, shelfDays), "UTC");
}

/** The workshop's temperature, 18 °C before the shop has said so, and its time zone. */
export async function workshopOf(
  db: Db,
): Promise<{ readonly workshopC: number; readonly timeZone: string }> {
  const shop = await findShop(db);
  return { workshopC: shop?.workshopTempC ?? 18, timeZone: shop?.timeZone ?? "UTC" };
}

/** @throws Refusal not-found */
export async function requireEpoxy(db: Db, itemId: string): Promise<ItemRow> {
  const item = await requireItem(db, itemId);
  if (item.kind !== "EPOXY") throw new Refusal("not-found", "This item is no epoxy.");
  return item;
}
