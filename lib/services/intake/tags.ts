import { type Actor, requirePermission } from "@/lib/access";
import { findPart, reading } from "@/lib/data";
import { partTagPdf } from "@/lib/documents";
import { VERDICT_WORDS } from "@/lib/treatment";
import { requireShop } from "../open-shop";
import { jobById } from "./jobs";
import { requirePart } from "./parts";

/** Tags of all the parts of a job, to print and tie on. @throws Refusal not-allowed | not-found */
export async function jobTags(
  actor: Actor,
  jobId: string,
  now: Date,
): Promise<{ readonly bytes: Uint8Array; readonly jobNumber: number }> {
  requirePermission(actor, "see-shop");
  const job = await jobById(actor, jobId);
  const shop = await reading(requireShop);
  const parts = await Promise.all(
    job.parts.map(({ id }) => reading((db) => requirePart(findPart(db, id)))),
  );
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
