export const name = "pricing";
export type Name = typeof name;
