import {
  grams,
  gallonsFromLitres,
  litres,
  ouncesFromGrams,
  poundsFromGrams,
  squareFeetFromSquareMetres,
  squareMetres,
  type Worked,
} from "@/lib/units";
import type { UnitSystem } from "../../measures";

type Customary = { readonly unit: string; readonly from: (value: number) => number };

const GRAMS_PER_POUND = 453.592_37;

/** What a measured amount is called in US customary units; null where the metric unit is the one in use. */
function customary({ unit, value, name }: Worked): Customary | null {
  if (unit === "m²") {
    return { unit: "sq ft", from: (area) => squareFeetFromSquareMetres(squareMetres(area)) };
  }
  // Gas is told in litres everywhere.
  if (unit === "L" && !name.includes("hydrogen")) {
    return { unit: "US gal", from: (volume) => gallonsFromLitres(litres(volume)) };
  }
  if (unit !== "g") return null;
  return Math.abs(value) < GRAMS_PER_POUND
    ? { unit: "oz", from: (mass) => ouncesFromGrams(grams(mass)) }
    : { unit: "lb", from: (mass) => poundsFromGrams(grams(mass)) };
}

/**
 * A figure in the shop's units. Its working stays metric, and says so.
 *
 * @example workedIn(solution, "US") // 16.4 US gal, where it was 62 L
 */
export function workedIn(worked: Worked, system: UnitSystem): Worked {
  const other = system === "US" ? customary(worked) : null;
  if (!other) return worked;
  const metric = `Worked in metric: ${Number(worked.value.toPrecision(3))} ${worked.unit}.`;
  return {
    ...worked,
    value: other.from(worked.value),
    unit: other.unit,
    ...(worked.low === undefined ? {} : { low: other.from(worked.low) }),
    ...(worked.high === undefined ? {} : { high: other.from(worked.high) }),
    note: [worked.note, metric].filter(Boolean).join(" "),
  };
}
