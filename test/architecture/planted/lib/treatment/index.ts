export const name = "treatment";
export type Name = typeof name;
