export { takeIn } from "../jobs/take-in";
