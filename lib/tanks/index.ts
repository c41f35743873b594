/**
 * Tanks: how much a vessel holds, where the level stands, how a part lies in it, and how a load of several hangs.
 *
 * Pure: imports only `@/lib/units` and `@/lib/electrolysis`; lengths in mm, volumes in L, areas in m².
 */
export * from "./fit";
export * from "./load";
export * from "./packing";
export { checkPacking } from "./packing-check";
export type { PackingSpace } from "./packing-space";
export * from "./shape";
