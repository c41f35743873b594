export { name } from "@/lib/services";
