export const name = "services";
export type Name = typeof name;
