export { nothing } from "./not-there";
