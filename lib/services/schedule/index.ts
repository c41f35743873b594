/** Bookings over time: other work on tanks, promises, the board as a whole, and weeks to come. */
export * from "./holds";
export { freeSlots, type TankSlots, type WaitingPart, waitingParts } from "./free-slots";
export {
  applyBoard,
  type BoardApplied,
  type BoardChange,
  type LastChange,
  lastChangeOfBoard,
  takeBackBoard,
} from "./apply-board";
export { AHEAD_WEEKS, type LookAhead, lookAhead, type WeeksAhead } from "./ahead";
export type { BoardNames } from "./names";
export { promisePart, type PromisedPart } from "./promise";
export { type BoardProposal, proposeBoard, type ProposedChange } from "./propose";
