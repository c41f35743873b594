import type { StockEntry } from "./balance";
import { costOfPiece } from "./draw";
import { fromThousandths, inThousandths } from "./quantity";

/** What is left of one delivery. */
export type Layer = {
  readonly lotId: string;
  /** in the item's unit, above 0 */
  readonly quantity: number;
  /** whole minor units */
  readonly costMinor: number;
};

export type Layers = {
  /** oldest first, none of them empty */
  readonly layers: readonly Layer[];
  readonly onHand: number;
  readonly valueMinor: number;
  /** what went out by these dates without having come in yet; 0 where the dates line up */
  readonly short: number;
};

type OpenLayer = { readonly lotId: string; steps: number; costMinor: number };

/**
 * Perpetual first in, first out (IAS 2 paragraph 25), worked out anew from a ledger: each delivery opens a layer, and
 * whatever goes out leaves the oldest layer first, whichever lot its line names. What comes back, or is found in a
 * count, goes to its lot's layer at the cost written down for it.
 *
 * The ledger itself draws by lots as they stood when each line was written. The two agree while deliveries are written
 * down before what came after them, nothing expires, and nothing is taken from a lot out of turn. A delivery dated
 * back, written after uses that followed it, is here drawn by those uses: it comes first by its date. The ledger, and
 * the costs of jobs, keep what was drawn. Neither is wrong; they answer different questions.
 *
 * What by its dates went out before it came in is taken from what comes next, and told as `short` until then.
 *
 * @param entries in order of time, without lines that were corrected and their corrections
 * @example fifoLayers([received(10, 1000), received(10, 2000), used(12)]).layers // 8 of the second for 1600
 */
export function fifoLayers(entries: readonly StockEntry[]): Layers {
  const open: OpenLayer[] = [];
  let owed = 0;
  for (const { lotId, quantity, costMinor } of entries) {
    const steps = inThousandths(quantity);
    if (steps < 0) {
      owed = drain(open, owed - steps);
    } else {
      fill(open, { lotId, steps, costMinor });
      if (owed > 0) owed = drain(open, owed);
    }
  }
  const layers = open.filter(({ steps }) => steps > 0);
  return {
    layers: layers.map(({ lotId, steps, costMinor }) => ({
      lotId,
      quantity: fromThousandths(steps),
      costMinor,
    })),
    onHand: fromThousandths(layers.reduce((total, { steps }) => total + steps, 0)),
    valueMinor: layers.reduce((total, { costMinor }) => total + costMinor, 0),
    short: fromThousandths(owed),
  };
}

function fill(open: OpenLayer[], came: OpenLayer): void {
  const own = open.find((layer) => layer.lotId === came.lotId);
  if (own) {
    own.steps += came.steps;
    own.costMinor += came.costMinor;
  } else {
    open.push(came);
  }
}

/** @returns steps that no layer could give */
function drain(open: readonly OpenLayer[], steps: number): number {
  let left = steps;
  for (const layer of open) {
    const taken = Math.min(left, layer.steps);
    if (taken === 0) continue;
    layer.costMinor -= costOfPiece(layer.costMinor, taken, layer.steps);
    layer.steps -= taken;
    left -= taken;
  }
  return left;
}
