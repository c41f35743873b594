/**
 * What a run's readings say: what is wrong, what to check next, and when to pull.
 * Pure; imports only `@/lib/units` and `@/lib/electrolysis`. Instants are epoch milliseconds.
 */
export type { Answers, NextCheck } from "./checks";
export * from "./diagnose";
export * from "./expectation";
export * from "./pull-time";
export * from "./run-working";
export { safetyFindings } from "./safety";
export * from "./usual-current";
export { percent } from "./words";
