export { askFieldAgain, askForChangedFields } from "./ask";
export { currentFindings, type CurrentFindings } from "./current";
export { solveNextField, type SolveOptions } from "./solve";
