export * from "./open-shop";
export * from "./settings";
export { createSetupCode } from "./setup-code";
