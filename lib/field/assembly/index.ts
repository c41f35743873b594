export { correct } from "./cycle";
export { refresh, step, takeGain } from "./gradients";
