import type { QuoteOptionRow } from "@/lib/data";
import type { PricedQuote } from "@/lib/pricing";
import type { PartPromise } from "./promise";

/** What an option keeps beside its columns, so that it explains itself whatever the rates and plans become. */
export type StoredEstimate = {
  readonly priced: PricedQuote;
  readonly promises: readonly PartPromise[];
  /** the plan that each part was priced from, by part; of those below, the plan that they had */
  readonly planVersions: Readonly<Record<string, number>>;
  /** parts that were planned for another goal to be priced; such a plan is kept when the option is accepted */
  readonly plannedForGoal: readonly string[];
  /** %, as somebody asked for it; null: what the job's size earned */
  readonly discountAsked: number | null;
};

/** The stored estimate; null where the option was written without one. */
export function estimateOf(option: Pick<QuoteOptionRow, "estimate">): StoredEstimate | null {
  const stored = option.estimate as Partial<StoredEstimate> | null;
  if (!stored || typeof stored !== "object" || !stored.priced || !stored.promises) return null;
  return {
    priced: stored.priced,
    promises: stored.promises,
    planVersions: stored.planVersions ?? {},
    plannedForGoal: stored.plannedForGoal ?? [],
    discountAsked: stored.discountAsked ?? null,
  };
}
