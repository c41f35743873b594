/** Tanks, supplies, baths and anodes. */
export * from "./anode-condition";
export * from "./anodes";
export * from "./baths";
export type { SaltUse } from "./salt";
export { addTank, bringBackTank, changeTank, retireTank } from "./set-up";
export * from "./shape";
export * from "./supplies";
export type { SupplyRow as SupplyView } from "@/lib/data";
