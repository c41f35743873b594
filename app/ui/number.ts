/** How a measured number is written; the rule is that of every unit. */
export { formatNumber } from "@/lib/units";
