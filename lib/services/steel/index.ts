/** Anode steel: sections of bars, the rack, and cutting. */
export { type BarToSaw, type CutToMake, cutSteel, undoCut } from "./cut";
export type { AnodeWish } from "./pieces";
export { checkWish, type ProposedCut, proposeCut } from "./propose";
export { type LotOnRack, type MeasuredOffcut, measureOffcut, scrapOffcut } from "./rack";
export { type BarsOfItem, describeBars } from "./section";
export { barsPage, type BarsPage, cuttingChoices, type CutView, seeCut } from "./see";
