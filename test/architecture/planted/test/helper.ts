export const helper = "helper";
