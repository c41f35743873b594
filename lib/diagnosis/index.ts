/**
 * What a run's readings say: what is wrong, what to check next, and when to pull.
 * Pure; imports only `@/lib/units` and `@/lib/electrolysis`. Instants are epoch milliseconds.
 */
export * from "./diagnose";
export * from "./expectation";
export * from "./pull-time";
