export const takeIn = "take in";
