/**
 * When a load may go in a tank and come out of it, and how full the tanks are.
 * The exact solver is loaded from ./solver by whoever wants it: a browser that draws the board never fetches it.
 * Pure: instants are epoch milliseconds, the shop's zone and hours are arguments, and nothing reads the clock.
 */
export type * from "./board";
export * from "./bound";
export * from "./calendar";
export * from "./capacity";
export * from "./exact";
export * from "./faults";
export * from "./improve";
export type * from "./mip";
export * from "./place";
export * from "./slots";
export * from "./timeline";
export * from "./week";
