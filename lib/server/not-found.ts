import { notFound } from "next/navigation";
import { isRefusal } from "@/lib/errors";

/** For pages: what is not there becomes Next's own not-found screen. */
export async function withNotFound<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (isRefusal(error) && error.code === "not-found") notFound();
    throw error;
  }
}
