/** What every screen does with its address and with a refusal. */
import { headers } from "next/headers";
import { notFound, redirect } from "next/navigation";
import { z } from "zod";
import { isRefusal } from "@/lib/errors";

/** Rows of a list on one page. */
export const PAGE_SIZE = 25;

/**
 * What a screen shows, or the page that says why not: nothing here, or not for this role.
 *
 * @example const view = await load(() => jobCostView(actor, id, now));
 */
export async function load<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (isRefusal(error) && error.code === "not-found") notFound();
    if (isRefusal(error) && error.code === "not-allowed") redirect("/not-allowed");
    throw error;
  }
}

/** The id in an address; a mistyped one leads to nothing rather than to a fault. */
export function idFrom(text: string): string {
  const parsed = z.uuid().safeParse(text);
  if (!parsed.success) notFound();
  return parsed.data;
}

export type PageWindow = { readonly page: number; readonly skip: number; readonly take: number };

/** Which rows a page of a list shows, from the search parameter `page`. */
export function pageWindow(page: string | string[] | undefined): PageWindow {
  const asked = Number.parseInt(typeof page === "string" ? page : "1", 10);
  const number = Number.isSafeInteger(asked) && asked > 0 ? Math.min(asked, 100_000) : 1;
  return { page: number, skip: (number - 1) * PAGE_SIZE, take: PAGE_SIZE };
}

/** Where a request comes from, for counting tries. */
export async function callerAddress(): Promise<string> {
  const forwarded = (await headers()).get("x-forwarded-for") ?? "";
  // The last entry is the one that the nearest proxy, or this server itself, wrote; a caller makes up the others.
  return forwarded.split(",").at(-1)?.trim() || "unknown";
}
