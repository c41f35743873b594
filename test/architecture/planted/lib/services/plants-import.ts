export { name } from "@/lib/server";
