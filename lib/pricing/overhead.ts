import { roundHalfEven } from "@/lib/money";
import type { Standing, Worked } from "@/lib/units";
import { LINE_KIND_WORDS } from "./lines";
import type { OverheadBasis, RateCard } from "./rate-card";
import { moneyInput, percentInput, rateInput, workedMoney } from "./worked-money";

/** How each is said. */
export const OVERHEAD_BASIS_WORDS: Readonly<Record<OverheadBasis, string>> = {
  DIRECT_COST: "% of the direct cost",
  LABOUR: "% of the labour",
  TANK_HOURS: "an amount for each tank hour",
};

/** What a job or a part gives its share of the overhead by. */
export type OverheadBearer = {
  /** direct cost, contingency included where there is one; whole minor units */
  readonly directMinor: number;
  readonly labourMinor: number;
  /** h, at the share of the tank */
  readonly tankHours: number;
};

/** Whole minor units of overhead, rounded half-even. @example overheadMinor(bearer, rates) // 15 % of it */
export function overheadMinor(bearer: OverheadBearer, rates: RateCard): number {
  switch (rates.overheadBasis) {
    case "DIRECT_COST":
      return roundHalfEven((bearer.directMinor * rates.overheadPercent) / 100);
    case "LABOUR":
      return roundHalfEven((bearer.labourMinor * rates.overheadPercent) / 100);
    case "TANK_HOURS":
      return roundHalfEven(bearer.tankHours * rates.overheadPerTankHourMinor);
  }
}

/** The working of an overhead that may be the sum of several, each rounded for itself. */
export function workedOverhead(
  bearer: OverheadBearer,
  minor: number,
  rates: RateCard,
  standing: Standing,
): Worked {
  const { currency } = rates;
  const figure = { name: LINE_KIND_WORDS.OVERHEAD, minor, currency, standing };
  if (rates.overheadBasis === "TANK_HOURS") {
    return workedMoney({
      ...figure,
      formula: "C = t · r",
      inputs: [
        { name: "tank hours", symbol: "t", value: bearer.tankHours, unit: "h", standing },
        rateInput("r", rates.overheadPerTankHourMinor, "h", currency),
      ],
    });
  }
  const labour = rates.overheadBasis === "LABOUR";
  return workedMoney({
    ...figure,
    formula: labour ? "C = L · o / 100" : "C = C_direct · o / 100",
    inputs: [
      labour
        ? moneyInput("labour", bearer.labourMinor, currency, { symbol: "L", standing })
        : moneyInput("direct cost", bearer.directMinor, currency, { symbol: "C_direct", standing }),
      percentInput("overhead", "o", rates.overheadPercent),
    ],
  });
}
