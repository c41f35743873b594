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
export * from "./draw";
export * from "./epoxy";
export * from "./expiry";
export * from "./quantity";
export * from "./reorder";
export * from "./section";
export * from "./words";
