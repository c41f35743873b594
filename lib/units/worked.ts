/**
 * A figure that can explain itself. Every computed number on a screen is one of these: the value,
 * the formula, what was put in, where each thing came from, and how far to trust it.
 */

/** What a figure or an input rests on, from firmest to weakest. */
export const STANDINGS = [
  "standard", // a published standard or an exact definition
  "handbook", // a published table or textbook
  "measured here", // this shop's own readings and weighings
  "entered here", // typed in by the shop: a size, a rating, a price
  "common practice", // usual in the trade, no source
  "assumption", // chosen by us until the shop's own figures replace it
] as const;
export type Standing = (typeof STANDINGS)[number];

export type WorkedInput = {
  readonly name: string; // "bath temperature"
  readonly symbol?: string; // "T"
  readonly value: number | string;
  readonly unit?: string; // "°C"
  readonly standing: Standing;
  readonly source?: string; // "CRC Handbook, p. 5-71"
};

/** Plain data, so that it can be stored as JSON with a plan and sent to a browser. */
export type Worked = {
  readonly name: string; // "current"
  readonly value: number;
  readonly unit: string; // "A"
  readonly low?: number; // same unit
  readonly high?: number; // same unit
  readonly formula: string; // "V_open − I·R_i = E_rev + η_c + η_a + I·(R_bath + R_leads)"
  readonly inputs: readonly WorkedInput[];
  readonly standing: Standing; // of the result: no firmer than its weakest input that matters
  readonly source?: string;
  readonly note?: string; // what was left out, and why that is safe
};
