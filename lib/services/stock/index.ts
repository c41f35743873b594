/** Items, lots and the ledger. */
export type { ItemKind } from "@/lib/data";
export * from "./consume";
export {
  type Correction,
  correctEntry,
  type LineToCorrect,
  lineToCorrect,
  type RightLine,
} from "./correct";
export { type Count, type CountOutcome, countStock, stockCounts } from "./count";
export { type CountPlace, type CountRow, countSheet } from "./count-sheet";
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
export {
  type HandUse,
  type HandUsed,
  USE_KINDS,
  type UseKind,
  type UsePlace,
  placesInHand,
  takeByHand,
} from "./take";
export {
  type StockValuation,
  stockValuation,
  stockValuationCsv,
  type ValuedItem,
} from "./valuation";
