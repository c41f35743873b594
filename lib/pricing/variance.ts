import { apportion, money, roundHalfEven } from "@/lib/money";
import type { CostComparison, CostLine, LineKind } from "./lines";
import { total } from "./part-price";

/** What a difference comes from, in whole minor units; both add up to it. */
export type Variance = {
  /** more or less of it was taken, at the price that was estimated */
  readonly quantityMinor: number;
  /** what was taken cost more or less than was estimated */
  readonly priceMinor: number;
  /** minor units for one unit of it, as estimated; as it was where nothing was estimated */
  readonly rateMinor: number;
  /** quantity that was estimated, in the unit of its line */
  readonly plannedQuantity: number;
};

/** Less than this of anything was not estimated at all; a price could not be told from it. */
const NOTHING = 1e-6;

/**
 * Splits the difference of one line of cost into quantity and price:
 *
 *   (Aq − Sq) · Sp   +   (Ap − Sp) · Aq
 *
 * with A for actual, S for standard, q for quantity and p for price: the efficiency and the price variance of a flexible
 * budget (Horngren, Datar and Rajan, Cost Accounting, chapter on direct-cost variances; from memory). The quantity's
 * share is rounded half-even and the price has the rest, so that both always add up to the difference.
 *
 * @param line           as `jobCost` compares it
 * @param estimate       the shop's lines of the quote
 * @param actualQuantity 0 or more, in the unit of the estimate
 * @returns null where the estimate keeps no quantity
 * @example varianceOf(energy, priced.costs, 4.2)?.priceMinor // night hours came cheaper: −30
 */
export function varianceOf(
  line: CostComparison,
  estimate: readonly CostLine[],
  actualQuantity: number,
): Variance | null {
  const plannedQuantity = plannedQuantityOf(line.kind, estimate);
  if (plannedQuantity === null) return null;
  if (plannedQuantity < NOTHING) {
    const rateMinor = actualQuantity > 0 ? line.actualMinor / actualQuantity : 0;
    return { quantityMinor: line.varianceMinor, priceMinor: 0, rateMinor, plannedQuantity: 0 };
  }
  const rateMinor = line.estimatedMinor / plannedQuantity;
  const quantityMinor = roundHalfEven((actualQuantity - plannedQuantity) * rateMinor);
  return {
    quantityMinor,
    priceMinor: line.varianceMinor - quantityMinor,
    rateMinor,
    plannedQuantity,
  };
}

/** The quantities of a kind's lines, which their working keeps as q. */
function plannedQuantityOf(kind: LineKind, estimate: readonly CostLine[]): number | null {
  const quantities = estimate
    .filter((line) => line.kind === kind)
    .map(({ worked }) => worked.inputs.find(({ symbol }) => symbol === "q")?.value);
  const known = quantities.filter((quantity) => typeof quantity === "number");
  return known.length === quantities.length ? total(known) : null;
}

/** One piece of a difference: who or what took how much more than planned, in the unit of its line. */
export type Piece = { readonly words: string; readonly more: number };

/** A piece in money. */
export type Effect = { readonly words: string; readonly minor: number };

/**
 * Lays a difference by quantity to its pieces, in whole minor units that add up to it (largest remainder).
 *
 * @param rest how what the pieces leave over is named; it is left out where it is less than a minor unit
 * @example laidTo(variance, [{ words: "Run 4: 2.0 h more", more: 2 }], "Planned otherwise", "EUR")
 */
export function laidTo(
  { quantityMinor, rateMinor }: Pick<Variance, "quantityMinor" | "rateMinor">,
  pieces: readonly Piece[],
  rest: string,
  currency: string,
): readonly Effect[] {
  const exact = pieces.map(({ more }) => more * rateMinor);
  const over = quantityMinor - total(exact);
  const hasRest = pieces.length === 0 || Math.abs(over) >= 1;
  const named = [...pieces.map(({ words }) => words), ...(hasRest ? [rest] : [])];
  // Less than a minor unit is a matter of rounding, and lies with the pieces in equal shares.
  const shares = hasRest ? [...exact, over] : exact.map((share) => share + over / exact.length);
  const whole = apportion(money(quantityMinor, currency), shares);
  return named
    .map((words, index) => ({ words, minor: whole[index]?.minor ?? 0 }))
    .filter(({ minor }) => minor !== 0);
}
