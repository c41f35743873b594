/**
 * Where the current goes: the field of a bath on a grid of cells.
 *
 * Pure: imports only `@/lib/units` and `@/lib/electrolysis`. SI throughout; lengths in metres.
 */
export * from "./bath-field";
export * from "./bathful";
export type { BuiltScene } from "./build-scene";
export * from "./catalogue";
export * from "./distribution";
export * from "./faults";
export type { FreeWay, Hollow } from "./hollow";
export * from "./look";
export * from "./mesh";
export type { Patches } from "./patches";
export * from "./polarised";
export * from "./poses";
export * from "./potential";
export * from "./scene";
export * from "./stl";
export * from "./stream-lines";
export type { Vessel } from "./vessel";
export type { WearBand } from "./wear";
