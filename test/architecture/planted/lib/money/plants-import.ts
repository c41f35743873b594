export { name } from "@/lib/errors";
