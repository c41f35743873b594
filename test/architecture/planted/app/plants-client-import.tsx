"use client";

export { name } from "@/lib/services";
