export * from "./money";
