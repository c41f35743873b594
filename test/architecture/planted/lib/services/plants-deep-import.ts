export { inner } from "@/lib/data/inner";
