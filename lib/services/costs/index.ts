/** What jobs took against what was quoted. */
export type { EntryShare, JobRecords, RunShare } from "./actuals";
export type { Cause } from "./causes";
export {
  type EstimateOrigin,
  type JobCostView,
  jobCostView,
  type JobMargin,
  jobMargins,
} from "./job-cost";
export { type ExtraLabour, type JobLabour, jobLabour, recordExtraLabour } from "./labour";
