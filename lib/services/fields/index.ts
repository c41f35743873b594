/** What the field says of planned parts: asked for, worked out, kept, shown; and parts' own shapes. */
export { askFieldAgain, askForChangedFields } from "./ask";
export { currentFindings, type CurrentFindings } from "./current";
export { type DrawnMeasures, drawnMeasures, fromDrawing } from "./from-drawing";
export {
  addOwnShape,
  ownShape,
  type OwnShape,
  removeOwnShape,
  type ShapeFile,
  takeOverMeasures,
} from "./own-shape";
export { planSheet } from "./plan-sheet";
export { fieldOfPart, type FieldOfPart, fieldProgress } from "./see";
export { solveNextField, type SolveOptions } from "./solve";
