export const name = "errors";
export type Name = typeof name;
