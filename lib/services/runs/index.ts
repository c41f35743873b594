/** Booking, loading, reading, pulling and finishing. */
export * from "./bakes";
export { bookRun, type Booked, type NewBooking } from "./book";
export { assignRun, cancelRun, fixRun } from "./change-booking";
export * from "./finish";
export { joinRun, type Joining, leaveRun } from "./join";
export * from "./load";
export {
  checkMove,
  type Move,
  type MoveCheck,
  type Moved,
  moveRun,
  type RunPlace,
  type TankForRun,
  tanksForRun,
} from "./move";
export type { Layout } from "./layout";
export type { LoadPlan } from "./needs";
export { type RunProgress, runProgress } from "./progress";
export * from "./pull";
export * from "./readings";
export * from "./safety";
export * from "./see";
export * from "./slots";
