export const name = "field";
export type Name = typeof name;
