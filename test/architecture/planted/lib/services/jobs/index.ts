export { takeIn } from "./take-in";
