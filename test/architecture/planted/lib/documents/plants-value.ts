export { name } from "@/lib/pricing";
