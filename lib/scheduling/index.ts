/**
 * When a load may go in a tank and come out of it, how full the tanks are, when a new part can be promised for, and
 * how sure the promises are.
 * Pure: instants are epoch milliseconds, the shop's zone and hours are arguments, chance follows from a seed, and
 * nothing reads the clock.
 * The exact solver is loaded from ./solver by whoever wants it: a browser that draws the board never fetches it.
 */
export type * from "./board";
export * from "./bound";
export * from "./calendar";
export * from "./capacity";
export type { ShopChange } from "./change";
export * from "./exact";
export * from "./faults";
export * from "./improve";
export type * from "./mip";
export * from "./place";
export * from "./promise";
export type * from "./promise-types";
export * from "./simulate";
export { type CountedShare, hoursAt, type Spread, wilson } from "./simulate-chance";
export type * from "./simulate-types";
export * from "./slots";
export * from "./supply-full";
export * from "./timeline";
export * from "./week";
