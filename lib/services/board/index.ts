export * from "./see-time-board";
export type * from "./time-board-types";
/** What the board, a tank's page and the first screen show. */
export { type Board, seeBoard, type Strip } from "./see-board";
export { type Home, seeHome } from "./see-home";
export { seeTank, type SteelChoice, type TankPage } from "./see-tank";
export { watchShop } from "./live";
export type { TankView } from "./tank-view";
