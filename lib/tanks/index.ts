/**
 * Tanks: how much a vessel holds, where the level stands, and how a part lies in it.
 *
 * Pure: imports only `@/lib/units` and `@/lib/electrolysis`; lengths in mm, volumes in L, areas in m².
 */
export * from "./fit";
export * from "./shape";
