export { name } from "@/lib/services";
export const screen = "screen";
