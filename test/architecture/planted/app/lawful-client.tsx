"use client";

export { name } from "@/lib/units";
export type { Name } from "@/lib/server";
