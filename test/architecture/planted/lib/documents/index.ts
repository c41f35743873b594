export const name = "documents";
export type Name = typeof name;
