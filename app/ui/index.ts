/** Shared plain components: no data, no domain rules. */
export * from "./bar";
export * from "./button";
export * from "./column-chart";
export * from "./confirm";
export * from "./fields";
export * from "./figure";
export * from "./form";
export * from "./fresh-link";
export * from "./load-drawing";
export * from "./measure-field";
export * from "./money";
export * from "./number";
export * from "./page-frame"; // a file named page.tsx would be a screen of its own at /ui
export * from "./plain";
export * from "./price-lines";
export * from "./quote-changes";
export * from "./quote-range";
export * from "./tank-drawing";
export * from "./units";
