export const name = "data";
export type Name = typeof name;
