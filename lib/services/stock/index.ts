/** Items, lots and the ledger. */
export type { ItemKind } from "@/lib/data";
export * from "./consume";
export { type Count, countStock } from "./count";
export { addItem, bringBackItem, changeItem, retireItem } from "./items";
export {
  runningLow,
  type StockItem,
  type StockItemPage,
  stockItemPage,
  type StockOverview,
  stockOverview,
} from "./overview";
export { type Delivery, receiveLot } from "./receive";
export { returnStock, type StockReturn } from "./return";
export { type Spoilage, spoilStock } from "./spoil";
