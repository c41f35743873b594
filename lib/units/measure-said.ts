/**
 * Measures inside sentences. A sentence that is stored or handed on carries its measures metric and in braces,
 * "Fill up with {12 L} of water."; at the edge they are said in the units of whoever reads them.
 */
import { formatMeasures } from "./measure-format";
import type { UnitSystem } from "./measure-kinds";
import { kindOfUnit, type KindOfUnit } from "./measure-signs";

const AMOUNT = String.raw`-?\d+(?:\.\d+)?`;
const BETWEEN = String.raw` × | to |–| ± `;
const BRACED = new RegExp(
  `\\{(${AMOUNT}(?:(?:${BETWEEN})${AMOUNT})*) ([^{}\\d\\s][^{}\\s]*)\\}`,
  "g",
);

/**
 * A sentence in the units of a system. Braces go; what stands in them is as it was for a metric reader, and where the
 * unit is the same for all. A sentence without braces stays as it is.
 *
 * @example said("It is {300 mm} high, baked at {190 to 220 °C}.", "US")
 *   // "It is 11 13/16 in high, baked at 374 to 428 °F."
 */
export function said(sentence: string, system: UnitSystem): string {
  return sentence.replace(BRACED, (_, amounts: string, unit: string) => {
    const known = kindOfUnit(unit);
    return system === "US" && known ? inUs(amounts, known) : `${amounts} ${unit}`;
  });
}

function inUs(amounts: string, { kind, times }: KindOfUnit): string {
  const values = amounts.split(new RegExp(BETWEEN)).map((amount) => Number(amount) * times);
  const [between = ""] = new RegExp(BETWEEN).exec(amounts) ?? [];
  return formatMeasures(kind, values, "US", between);
}
