/** Tanks, supplies, baths and anodes. */
export * from "./anode-condition";
export * from "./anodes";
export { type BathFigures, bathFigures, contentsOf } from "./bath-figures";
export * from "./baths";
export { type CareDone, recordCare, type TankUpkeep, tankUpkeep } from "./care";
export * from "./measure-bath";
export type { SaltAmount, SaltUse } from "./salt";
export { addTank, bringBackTank, changeTank, retireTank } from "./set-up";
export * from "./shape";
export * from "./supplies";
export type { SupplyRow as SupplyView } from "@/lib/data";
