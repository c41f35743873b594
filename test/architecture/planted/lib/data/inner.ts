export const inner = "inner";
