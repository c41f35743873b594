/** Booking, loading, reading, pulling and finishing. */
export * from "./bakes";
export * from "./book";
export * from "./change-booking";
export * from "./finish";
export * from "./load";
export * from "./move";
export type { Layout } from "./layout";
export type { LoadPlan } from "./needs";
export { type RunProgress, runProgress } from "./progress";
export * from "./pull";
export * from "./readings";
export * from "./safety";
export * from "./see";
export * from "./slots";
