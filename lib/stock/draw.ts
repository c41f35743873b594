import { roundHalfEven } from "@/lib/money";
import { addQuantities, fromThousandths, inThousandths } from "./quantity";

/** A lot that may be drawn on. */
export type HeldLot = {
  readonly id: string;
  readonly receivedAt: Date;
  /** last good day; null or left out where it keeps */
  readonly expiresOn?: Date | null;
  readonly onHand: number;
  /** cost of what is on hand, whole minor units */
  readonly valueMinor: number;
};

/** What came out of one lot: above 0, at its cost. */
export type Drawn = {
  readonly lotId: string;
  readonly quantity: number;
  readonly costMinor: number;
};

/**
 * First in, first out (IAS 2 paragraph 25): takes from the oldest lot before the next. Where lots expire, the one that
 * expires first goes first instead, before all that keep. Either way each piece goes out at its own lot's cost. A part
 * of a lot costs its share, rounded half-even; the last of a lot carries what is left of its cost, so that value is
 * conserved.
 *
 * @param lots     in any order; of two received at once, the one with the smaller id goes first
 * @param quantity 0 or more, rounded to a thousandth of the unit
 * @returns pieces in the order drawn
 * @throws RangeError if it is negative, or more than all lots hold
 * @example drawOldestFirst([{ id: "a", receivedAt, onHand: 3, valueMinor: 100 }], 1) // 1 from "a" for 33
 */
export function drawOldestFirst(lots: readonly HeldLot[], quantity: number): readonly Drawn[] {
  let left = inThousandths(quantity);
  const onHand = addQuantities(lots.map((lot) => lot.onHand));
  if (left < 0 || left > inThousandths(onHand)) {
    throw new RangeError(`quantity must be from 0 to the ${onHand} on hand, got ${quantity}`);
  }
  const drawn: Drawn[] = [];
  for (const lot of [...lots].sort(byTurn)) {
    const held = inThousandths(lot.onHand);
    const taken = Math.min(left, held);
    if (taken <= 0) continue;
    drawn.push({
      lotId: lot.id,
      quantity: fromThousandths(taken),
      costMinor: costOfPiece(lot.valueMinor, taken, held),
    });
    left -= taken;
  }
  return drawn;
}

function byTurn(a: HeldLot, b: HeldLot): number {
  const lastDay = (lot: HeldLot): number => lot.expiresOn?.getTime() ?? Number.MAX_VALUE;
  const expiry = lastDay(a) - lastDay(b);
  if (expiry !== 0) return expiry;
  const age = a.receivedAt.getTime() - b.receivedAt.getTime();
  if (age !== 0) return age;
  return a.id < b.id ? -1 : 1;
}

/** What a piece of a lot costs: its share of the lot's value, all of it for the last piece. */
export function costOfPiece(valueMinor: number, piece: number, whole: number): number {
  return piece === whole ? valueMinor : roundHalfEven(valueMinor * (piece / whole));
}

/** A lot as it was delivered and as it stands. */
export type DeliveredLot = {
  readonly quantity: number;
  readonly costMinor: number;
  readonly onHand: number;
  readonly valueMinor: number;
};

/**
 * What stock brought back to its lot is worth: its share of the cost that left the lot, all of it when the lot is
 * whole again.
 *
 * @param quantity above 0, at most what is out of the lot
 * @returns whole minor units
 * @throws RangeError if more comes back than went out
 * @example costOfReturn({ quantity: 3, costMinor: 100, onHand: 2, valueMinor: 67 }, 1) // 33
 */
export function costOfReturn(lot: DeliveredLot, quantity: number): number {
  const out = inThousandths(lot.quantity) - inThousandths(lot.onHand);
  const back = inThousandths(quantity);
  if (!(back > 0 && back <= out)) {
    throw new RangeError(
      `quantity must be above 0 and at most the ${fromThousandths(out)} taken, got ${quantity}`,
    );
  }
  return costOfPiece(lot.costMinor - lot.valueMinor, back, out);
}
