export { name } from "@/lib/treatment";
