/**
 * What a shop learns from its own runs, readings and weighings.
 *
 * Pure and without chance: imports only `@/lib/units`; the same history gives the same answer.
 * Classes of parts are keys that the caller chooses (`learningClass` of lib/treatment).
 */
export * from "./coverage";
export * from "./hours";
export * from "./outcome";
export * from "./tank-resistance";
export * from "./weighings";
export * from "./worked";
