import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type Db,
  findPurchaseOrder,
  type PurchaseLineRow,
  type PurchaseOrderRow,
  reading,
  type ShopRow,
  supplierNamed,
} from "@/lib/data";
import { csv, type CsvCell, type PurchaseListDocument, purchaseListPdf } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { majorUnits, money } from "@/lib/money";
import { quantityText, roundQuantity, type StockUnit, UNIT_SIGNS } from "@/lib/stock";
import { formatMeasure, type MeasureKind, type UnitSystem } from "@/lib/units";
import { calendarDay, dateText, dayText } from "../calendar";
import { requireShop } from "../open-shop";

type File = { readonly name: string; readonly bytes: Uint8Array };

/**
 * The list on paper, for its supplier: without prices. @throws Refusal not-allowed | not-found
 *
 * @param now written into the file
 */
export async function purchaseListFile(actor: Actor, orderId: string, now: Date): Promise<File> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { order, shop } = await readOrder(db, orderId);
    const supplier = await supplierNamed(db, order.supplierName);
    const contact = supplier ? [supplier.email, supplier.phone, supplier.note] : [];
    const bytes = await purchaseListPdf(documentOf(order, contact, shop, now));
    return { name: `order-${order.number}.pdf`, bytes };
  });
}

/** The list as a table for other programs; with prices for who may see money. @throws Refusal not-allowed | not-found */
export async function purchaseListCsv(actor: Actor, orderId: string): Promise<File> {
  requirePermission(actor, "see-shop");
  const priced = may(actor, "see-money");
  return reading(async (db) => {
    const { order, shop } = await readOrder(db, orderId);
    const head = ["order", "supplier", "ordered", "item", "quantity", "unit", "packs", "received"];
    const prices = priced ? [`expected price, ${shop.currency}`] : [];
    const rows = order.lines.map((line): CsvCell[] => [
      order.number,
      order.supplierName,
      order.orderedAt && dateText(calendarDay(order.orderedAt, shop.timeZone)),
      line.itemName,
      line.quantity,
      UNIT_SIGNS[line.unit],
      packsOf(line),
      line.received,
      ...(priced ? [majorOf(line.expectedMinor, shop.currency)] : []),
    ]);
    return { name: `order-${order.number}.csv`, bytes: csv([...head, ...prices], rows) };
  });
}

async function readOrder(
  db: Db,
  orderId: string,
): Promise<{ readonly order: PurchaseOrderRow; readonly shop: ShopRow }> {
  const [order, shop] = await Promise.all([findPurchaseOrder(db, orderId), requireShop(db)]);
  if (!order) throw new Refusal("not-found", "There is no such order.");
  return { order, shop };
}

const majorOf = (minor: number | null, currency: string): number | null =>
  minor === null ? null : majorUnits(money(minor, currency));

const packsOf = ({ quantity, packQuantity }: PurchaseLineRow): number | null =>
  packQuantity === null ? null : roundQuantity(quantity / packQuantity);

function documentOf(
  order: PurchaseOrderRow,
  contact: readonly string[],
  shop: ShopRow,
  now: Date,
): PurchaseListDocument {
  const { locale, timeZone, unitSystem } = shop;
  const day = calendarDay(order.orderedAt ?? order.createdAt, timeZone);
  return {
    shop: { name: shop.name, address: shop.address, email: shop.email, phone: shop.phone },
    supplier: { name: order.supplierName, contact },
    number: order.number,
    date: dayText(day, locale),
    expected: order.expectedOn && dayText(order.expectedOn, locale),
    draft: order.orderedAt === null,
    lines: order.lines.map((line) => ({
      item: line.itemName,
      packs: packsText(line, unitSystem),
      amount: amountText(line.quantity, line.unit, unitSystem),
    })),
    note: order.note,
    madeAt: now,
  };
}

function packsText(line: PurchaseLineRow, units: UnitSystem): string {
  const packs = packsOf(line);
  if (packs === null || line.packQuantity === null) return "";
  return `${packs} × ${amountText(line.packQuantity, line.unit, units)}`;
}

/** In which unit big amounts are ordered, and what is measured. */
const WORDS: Readonly<Record<StockUnit, readonly [thousand: string, kind: MeasureKind] | null>> = {
  GRAM: ["kg", "salt"],
  MILLILITRE: ["L", "liquid"],
  MILLIMETRE: ["m", "length"],
  EACH: null,
};

/** An amount as it is ordered: nothing rounded. @example amountText(75_000, "GRAM", "METRIC") // "75 kg" */
function amountText(quantity: number, unit: StockUnit, units: UnitSystem): string {
  const words = WORDS[unit];
  if (!words) return quantityText(quantity, unit);
  const [thousand, kind] = words;
  if (units === "US") return formatMeasure(kind, quantity, units, { decimals: 3 });
  if (quantity < 1000) return quantityText(quantity, unit);
  return `${Number((quantity / 1000).toFixed(6))} ${thousand}`;
}
