export * from "./customers";
export { cancelJob, closeJob, reopenJob } from "./end-job";
export { handBackPart, takeBackPart } from "./hand-back";
export {
  changeJob,
  jobById,
  jobList,
  type JobQuery,
  type NewJob,
  promiseJob,
  takeInJob,
} from "./jobs";
export * from "./make-plan";
export * from "./overrule";
export { addPart, CHANGEABLE, changePart, partById, removePart } from "./parts";
export * from "./photos";
export * from "./tags";
export * from "./what-if";
