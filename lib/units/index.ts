export * from "./checks";
export * from "./conversions";
export * from "./measure-format";
export {
  enteredUnit,
  isUnitSystem,
  kindFacts,
  type MeasureKind,
  UNIT_SYSTEMS,
  type UnitSystem,
} from "./measure-kinds";
export * from "./measure-parse";
export * from "./measure-said";
export * from "./measure-worked";
export * from "./number";
export * from "./quantities";
export * from "./wire";
export * from "./worked";
