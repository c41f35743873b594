export { name } from "@/lib/diagnosis";
