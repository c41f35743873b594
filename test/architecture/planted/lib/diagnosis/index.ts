export const name = "diagnosis";
export type Name = typeof name;
