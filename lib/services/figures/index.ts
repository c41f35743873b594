/** Figures of the shop, each leading to what is behind it. */
export {
  type AnodeFigure,
  anodeFigures,
  type AnodePage,
  anodePage,
  WEAR_WEEKS,
  type WearWeek,
} from "./anodes";
export { type CapacityFigures, capacityFigures, type TankWeekPage, tankWeekPage } from "./capacity";
