import type { QuoteVersionRow } from "@/lib/data";
import type { PricedQuote } from "@/lib/pricing";
import type { PartPromise } from "./promise";

/** What a version keeps beside its columns, so that it explains itself whatever the rates and plans become. */
export type StoredEstimate = {
  readonly priced: PricedQuote;
  readonly promises: readonly PartPromise[];
  /** the plan that each part was priced from, by part */
  readonly planVersions: Readonly<Record<string, number>>;
};

/** The stored estimate; null where the version was written without one. */
export function estimateOf(version: Pick<QuoteVersionRow, "estimate">): StoredEstimate | null {
  const stored = version.estimate as Partial<StoredEstimate> | null;
  if (!stored || typeof stored !== "object" || !stored.priced || !stored.promises) return null;
  return {
    priced: stored.priced,
    promises: stored.promises,
    planVersions: stored.planVersions ?? {},
  };
}
