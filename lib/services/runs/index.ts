/** Booking, loading, reading, pulling and finishing. */
export * from "./bakes";
export * from "./book";
export * from "./change-booking";
export * from "./finish";
export * from "./load";
export { type LoadPlan, nextEnd } from "./needs";
export { asRunReadings, type RunProgress, runProgress } from "./progress";
export * from "./pull";
export * from "./readings";
export { UNDO_MINUTES } from "./require-run";
export * from "./safety";
export * from "./see";
export * from "./slots";
