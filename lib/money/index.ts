export * from "./money";
export { type Rounding, ROUNDING_WORDS, ROUNDINGS, roundRatio } from "./rounding";
