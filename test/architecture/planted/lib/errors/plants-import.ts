export { name } from "@/lib/units";
