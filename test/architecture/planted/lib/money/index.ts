export const name = "money";
export type Name = typeof name;
