export { name } from "@/lib/data";
