export const name = "setup";
export type Name = typeof name;
