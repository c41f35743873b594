import { type Actor, requirePermission } from "@/lib/access";
import { findJob, findPart, type JobRow, type PartRow, reading } from "@/lib/data";
import { partTagPdf } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { VERDICT_WORDS } from "@/lib/treatment";
import { requireShop } from "../open-shop";
import { requirePart } from "./parts";

export type Tags = { readonly bytes: Uint8Array; readonly jobNumber: number };

/**
 * Tags of all the parts of a job, to print, cut out and tie on.
 *
 * @throws Refusal not-allowed | not-found where there is no such job, or nothing in it to tie a tag to
 */
export async function jobTags(actor: Actor, jobId: string, now: Date): Promise<Tags> {
  requirePermission(actor, "see-shop");
  const job = await reading((db) => findJob(db, jobId));
  if (!job) throw new Refusal("not-found", "There is no such job.");
  const parts = await reading((db) =>
    Promise.all(job.parts.map(({ id }) => requirePart(findPart(db, id)))),
  );
  return printed(job, parts, now);
}

/** The tag of one part: for one that came later, or whose tag was lost. @throws Refusal not-allowed | not-found */
export async function partTag(
  actor: Actor,
  partId: string,
  now: Date,
): Promise<Tags & { readonly mark: string }> {
  requirePermission(actor, "see-shop");
  const part = await reading((db) => requirePart(findPart(db, partId)));
  const job = await reading((db) => findJob(db, part.job.id));
  if (!job) throw new Refusal("not-found", "There is no such job.");
  return { ...(await printed(job, [part], now)), mark: part.mark };
}

async function printed(job: JobRow, parts: readonly PartRow[], now: Date): Promise<Tags> {
  if (parts.length === 0) throw new Refusal("not-found", "This job has no part yet.");
  const shop = await reading(requireShop);
  const promised = job.promisedFor?.toLocaleDateString(shop.locale, {
    timeZone: "UTC",
    weekday: "short",
    day: "numeric",
    month: "short",
  });
  const bytes = await partTagPdf({
    shopName: shop.name,
    madeAt: now,
    tags: parts.map((part) => ({
      jobNumber: job.number,
      mark: part.mark,
      description: part.description,
      quantity: part.quantity,
      customerName: job.customer.name,
      verdict: part.verdict ? VERDICT_WORDS[part.verdict.outcome] : null,
      conditions: (part.verdict?.findings.findings ?? [])
        .filter(({ outcome }) => outcome !== "CAUTION")
        .map(({ title }) => title),
      promisedFor: promised ?? null,
    })),
  });
  return { bytes, jobNumber: job.number };
}
