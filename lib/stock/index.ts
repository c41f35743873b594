/**
 * Stock: what the ledger says is there, what it is worth, and when to buy more.
 *
 * Pure; imports only `@/lib/units` and `@/lib/money`. Quantities are in the item's own unit and counted to a
 * thousandth of it, as the ledger's columns are; money is whole minor units.
 */
export * from "./anode-cost";
export * from "./balance";
export * from "./bend";
export * from "./cutting";
export * from "./cutting-check";
export * from "./cutting-exact";
export * from "./demand";
export { costOfReturn, type DeliveredLot, drawOldestFirst, type Drawn, type HeldLot } from "./draw";
export * from "./epoxy";
export * from "./expiry";
export * from "./layers";
export * from "./lead-time";
export * from "./order-advice";
export * from "./order-quantity";
export * from "./packs";
export * from "./quantity";
export * from "./reorder";
export * from "./reorder-point";
export * from "./section";
export * from "./words";
