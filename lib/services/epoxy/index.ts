/** Epoxy: makers' sheets, leaks of tanks and their patches. */
export {
  closeLeak,
  type FoundLeak,
  leaksPage,
  type LeaksPage,
  reopenLeak,
  reportLeak,
} from "./leaks";
export { type Patching, patchLeak } from "./patch";
export { describeEpoxy, epoxyPage, type EpoxyLot, type EpoxyPage, type SheetOfItem } from "./sheet";
