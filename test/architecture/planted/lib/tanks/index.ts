export const name = "tanks";
export type Name = typeof name;
