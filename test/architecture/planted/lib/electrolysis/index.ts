export const name = "electrolysis";
export type Name = typeof name;
