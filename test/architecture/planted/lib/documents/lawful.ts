export type { Name } from "@/lib/pricing";
