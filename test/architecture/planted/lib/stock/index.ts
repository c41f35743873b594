export const name = "stock";
export type Name = typeof name;
