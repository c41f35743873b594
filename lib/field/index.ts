/**
 * Where the current goes: the field of a bath on a grid of cells.
 *
 * Pure: imports only `@/lib/units` and `@/lib/electrolysis`. SI throughout; lengths in metres.
 */
export * from "./bathful";
export { type BuiltScene, buildScene } from "./build-scene";
export * from "./catalogue";
export * from "./distribution";
export * from "./look";
export * from "./mesh";
export * from "./polarised";
export * from "./potential";
export type { Patches } from "./patches";
export * from "./scene";
export type { Vessel } from "./vessel";
