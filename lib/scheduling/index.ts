/**
 * When a load may go in a tank and come out of it, and how full the tanks are.
 * Pure: instants are epoch milliseconds, the shop's zone and hours are arguments, and nothing reads the clock.
 */
export type * from "./board";
export * from "./bound";
export * from "./calendar";
export * from "./capacity";
export * from "./exact";
export * from "./faults";
export * from "./improve";
export * from "./mip";
export * from "./place";
export * from "./slots";
export * from "./timeline";
export * from "./week";
