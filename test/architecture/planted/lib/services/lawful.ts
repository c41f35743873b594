export { name } from "@/lib/data";
export { takeIn } from "./jobs";
