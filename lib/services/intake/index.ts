export * from "./customers";
export {
  cancelJob,
  changeJob,
  closeJob,
  jobById,
  jobList,
  type JobQuery,
  type NewJob,
  reopenJob,
  takeInJob,
} from "./jobs";
export * from "./make-plan";
export * from "./overrule";
export { addPart, CHANGEABLE, changePart, partById, removePart } from "./parts";
export * from "./photos";
export * from "./tags";
