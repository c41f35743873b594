export const name = "learning";
export type Name = typeof name;
