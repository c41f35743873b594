/** Shared plain components: no data, no domain rules. */
export * from "./button";
export * from "./confirm";
export * from "./fields";
export * from "./figure";
export * from "./form";
export * from "./number";
export * from "./page";
export * from "./plain";
export * from "./tank-drawing";
