export const name = "scheduling";
export type Name = typeof name;
