/**
 * When a load may go in a tank and come out of it, and how full the tanks are.
 * Pure: instants are epoch milliseconds, the shop's zone and hours are arguments, and nothing reads the clock.
 */
export * from "./calendar";
export * from "./capacity";
export * from "./slots";
export * from "./week";
