export { name } from "@/lib/money";
