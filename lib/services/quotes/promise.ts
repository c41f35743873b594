import type { QuotablePart } from "@/lib/data";
import { said, type UnitSystem } from "@/lib/units";

/** What is promised for one part, in words that a customer reads; stored with the quote. */
export type PartPromise = {
  readonly partId: string;
  readonly mark: string;
  readonly description: string;
  readonly quantity: number;
  /** what will be done, in sentences */
  readonly work: string;
  /** h in the bath: half of such parts are done by P50, nine in ten by P90 */
  readonly hoursP50: number;
  readonly hoursP90: number;
  /** conditions and cautions of the verdict and the plan */
  readonly cautions: readonly string[];
};

/** Says what will be done to a part and what to know about it, in the shop's units. The part must be planned. */
export function promiseFor(part: QuotablePart, units: UnitSystem): PartPromise {
  const { plan } = part;
  if (!plan) throw new RangeError(`part ${part.mark} has no plan to quote`);
  return {
    partId: part.id,
    mark: part.mark,
    description: part.description,
    quantity: part.quantity,
    work: said(workSentences(part), units),
    hoursP50: plan.hoursP50,
    hoursP90: plan.hoursP90,
    cautions: cautionsFor(part).map((caution) => said(caution, units)),
  };
}

function workSentences(part: QuotablePart): string {
  const plan = part.plan?.result;
  const aim =
    part.goal === "STRIP_TO_METAL"
      ? "Rust and old paint taken off down to bare metal in a soda bath under low-voltage current."
      : "Rust taken off in a soda bath under low-voltage current.";
  const turned = (part.plan?.dipCount ?? 1) > 1 ? " It goes in end for end." : "";
  const bake = plan?.reliefBake ? " Baked afterwards to drive hydrogen out of the hard steel." : "";
  return `${aim}${turned}${bake} Rinsed, brushed, dried hot and protected against flash rust.`;
}

function cautionsFor(part: QuotablePart): readonly string[] {
  const fromVerdict = (part.verdict?.findings ?? []).map(({ reason, whatToDo }) =>
    [reason, whatToDo].filter(Boolean).join(" "),
  );
  const always =
    "Pits and thin spots under rust only show once it is off; they are not made by the bath.";
  return [...new Set([...fromVerdict, always])];
}

/** @example hoursWords({ hoursP50: 3.4, hoursP90: 6.2 }) // "3 to 6 hours in the bath" */
export function hoursWords({
  hoursP50,
  hoursP90,
}: Pick<PartPromise, "hoursP50" | "hoursP90">): string {
  const low = Math.max(1, Math.round(hoursP50));
  const high = Math.max(low, Math.ceil(hoursP90));
  if (high === low) return `about ${low} ${low === 1 ? "hour" : "hours"} in the bath`;
  return `${low} to ${high} hours in the bath`;
}
