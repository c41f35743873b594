/** The only lib folder that knows Next: who is signed in, forms, routes, settings, and how times are written. */
export * from "./actor";
export { authOptions } from "./auth";
export * from "./environment";
export * from "./form-action";
export * from "./format";
export * as input from "./inputs";
export * from "./limits";
export * from "./log";
export * from "./route";
export * from "./screen";
export * from "./settings";
export * from "./versions";
