export const name = "access";
export type Name = typeof name;
