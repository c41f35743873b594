export const name = "server";
export type Name = typeof name;
