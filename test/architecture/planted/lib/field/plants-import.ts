export { name } from "@/lib/tanks";
