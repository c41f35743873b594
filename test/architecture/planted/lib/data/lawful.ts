export { name } from "@/lib/errors";
export type { Name } from "@/lib/money";
