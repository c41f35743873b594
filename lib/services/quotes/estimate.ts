import type { QuoteOptionRow } from "@/lib/data";
import type { PricedQuote } from "@/lib/pricing";
import type { PartPromise } from "./promise";

/** What an option keeps beside its columns, so that it explains itself whatever the rates and plans become. */
export type StoredEstimate = {
  readonly priced: PricedQuote;
  readonly promises: readonly PartPromise[];
  /** the plan that each part was priced from, by part */
  readonly planVersions: Readonly<Record<string, number>>;
};

/** The stored estimate; null where the option was written without one. */
export function estimateOf(option: Pick<QuoteOptionRow, "estimate">): StoredEstimate | null {
  const stored = option.estimate as Partial<StoredEstimate> | null;
  if (!stored || typeof stored !== "object" || !stored.priced || !stored.promises) return null;
  return {
    priced: stored.priced,
    promises: stored.promises,
    planVersions: stored.planVersions ?? {},
  };
}
