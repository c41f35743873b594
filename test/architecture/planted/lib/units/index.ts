export const name = "units";
export type Name = typeof name;
