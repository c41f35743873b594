export * from "./checks";
export * from "./conversions";
export * from "./quantities";
export * from "./worked";
