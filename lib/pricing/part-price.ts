import { roundHalfEven } from "@/lib/money";
import { checkNonNegative, checkRange, type Worked } from "@/lib/units";
import {
  DIRECT_COSTS,
  DIRECT_KINDS,
  directAmount,
  directMinor,
  exactCost,
  workedDirect,
} from "./direct-cost";
import {
  type CostLine,
  LINE_KIND_WORDS,
  LINE_KINDS,
  type LineKind,
  type PartPrice,
  type PricedPart,
} from "./lines";
import { type OverheadBearer, overheadMinor, workedOverhead } from "./overhead";
import type { RateCard } from "./rate-card";
import { moneyInput, percentInput, workedMoney } from "./worked-money";

/** Whole minor units of every kind of line. */
export type Amounts = Readonly<Record<LineKind, number>>;

/**
 * What one part costs and is priced at, by kind. Each amount is rounded once; the rest are whole numbers, so the
 * amounts add up whichever way they are added: over the kinds of a part, or over the parts of a kind.
 */
export function partAmounts(part: PricedPart, rates: RateCard): Amounts {
  const direct = DIRECT_KINDS.map((kind) => directMinor(kind, part, rates));
  const contingency = roundHalfEven(
    rates.contingencyShare *
      (costOfHours(part, rates, part.hoursP90) - costOfHours(part, rates, part.hoursP50)),
  );
  const beforeOverhead = total(direct) + contingency;
  const own = Object.fromEntries(DIRECT_KINDS.map((kind, i) => [kind, direct[i] ?? 0])) as Amounts;
  const overhead = overheadMinor(bearer(beforeOverhead, own, [part], rates), rates);
  const margin = roundHalfEven(
    ((beforeOverhead + overhead) * rates.marginPercent) / (100 - rates.marginPercent),
  );
  return {
    ...own,
    CONTINGENCY: contingency,
    OVERHEAD: overhead,
    MARGIN: margin,
  };
}

/** What these parts bear overhead by. */
function bearer(
  directMinor: number,
  amounts: Amounts,
  parts: readonly PricedPart[],
  rates: RateCard,
): OverheadBearer {
  const tankHours = total(parts.map((part) => DIRECT_COSTS.TANK_TIME.amount(part, rates)));
  return { directMinor, labourMinor: amounts.LABOUR, tankHours };
}

/** Exact cost, in minor units, of what grows with the hours: tank, energy and anode steel. */
function costOfHours(part: PricedPart, rates: RateCard, hours: number): number {
  const stretched = atHours(part, hours);
  return (["TANK_TIME", "ENERGY", "ANODE_STEEL"] as const).reduce(
    (sum, kind) => sum + exactCost(kind, stretched, rates),
    0,
  );
}

/** The part as if it took exactly these hours: energy and anode loss go with the time under current. */
export function atHours(part: PricedPart, hours: number): PricedPart {
  const stretch = part.hoursP50 > 0 ? hours / part.hoursP50 : 1;
  return {
    ...part,
    hoursP10: hours,
    hoursP50: hours,
    hoursP90: hours,
    anodeLossG: part.anodeLossG * stretch,
    energyKwh: part.energyKwh * stretch,
  };
}

export function total(amounts: readonly number[]): number {
  return amounts.reduce((sum, each) => sum + each, 0);
}

export function partPrice(part: PricedPart, rates: RateCard): PartPrice {
  const amounts = partAmounts(part, rates);
  return {
    partId: part.partId,
    label: part.label,
    netMinor: total(Object.values(amounts)),
    costs: costLines([part], amounts, rates),
  };
}

/** The lines of these parts together, each with its working. */
export function costLines(
  parts: readonly PricedPart[],
  amounts: Amounts,
  rates: RateCard,
): readonly CostLine[] {
  const direct = DIRECT_KINDS.map((kind): CostLine => {
    const amount = directAmount(kind, parts, amounts[kind], rates);
    return { kind, minor: amount.minor, worked: workedDirect(kind, amount, rates, "assumption") };
  });
  return [
    ...direct,
    {
      kind: "CONTINGENCY",
      minor: amounts.CONTINGENCY,
      worked: workedContingency(parts, amounts, rates),
    },
    {
      kind: "OVERHEAD",
      minor: amounts.OVERHEAD,
      worked: workedOverhead(
        bearer(before(amounts, "OVERHEAD"), amounts, parts, rates),
        amounts.OVERHEAD,
        rates,
        "assumption",
      ),
    },
    { kind: "MARGIN", minor: amounts.MARGIN, worked: workedMargin(amounts, rates) },
  ];
}

function workedContingency(
  parts: readonly PricedPart[],
  amounts: Amounts,
  rates: RateCard,
): Worked {
  const { currency } = rates;
  const at = (hours: (part: PricedPart) => number): number =>
    total(parts.map((part) => costOfHours(part, rates, hours(part))));
  return workedMoney({
    name: LINE_KIND_WORDS.CONTINGENCY,
    minor: amounts.CONTINGENCY,
    currency,
    formula: "C = s · (C90 − C50)",
    inputs: [
      {
        name: "share of the gap",
        symbol: "s",
        value: rates.contingencyShare,
        standing: "entered here",
        source: "rate card",
      },
      moneyInput(
        "tank, energy and anode at P90 hours",
        at((part) => part.hoursP90),
        currency,
        { symbol: "C90", standing: "assumption" },
      ),
      moneyInput(
        "the same at P50 hours",
        at((part) => part.hoursP50),
        currency,
        { symbol: "C50", standing: "assumption" },
      ),
    ],
    standing: "assumption",
    note: "Energy and anode loss go with the hours. Labour and soda do not.",
  });
}

/** The amounts before a kind, added up: what its percentage is taken of. */
const before = (amounts: Amounts, kind: LineKind): number =>
  total(LINE_KINDS.slice(0, LINE_KINDS.indexOf(kind)).map((each) => amounts[each]));

function workedMargin(amounts: Amounts, rates: RateCard): Worked {
  return workedMoney({
    name: LINE_KIND_WORDS.MARGIN,
    minor: amounts.MARGIN,
    currency: rates.currency,
    formula: "M = C · m / (100 − m)",
    inputs: [
      moneyInput("cost with overhead", before(amounts, "MARGIN"), rates.currency, {
        symbol: "C",
        standing: "assumption",
      }),
      percentInput("margin, of the price", "m", rates.marginPercent),
    ],
    standing: "assumption",
    note: "The margin is a share of the price, not of the cost: 20 % on a cost of 80 is 20.",
  });
}

/** @throws RangeError naming the part and the figure */
export function checkPart(part: PricedPart): void {
  const name = (figure: string) => `${figure} of ${part.label}`;
  if (!(Number.isInteger(part.quantity) && part.quantity >= 1)) {
    throw new RangeError(
      `${name("quantity")} must be a whole number of 1 or more, got ${part.quantity}`,
    );
  }
  checkNonNegative(name("area"), part.areaM2, "m²");
  checkNonNegative(name("runs"), part.runs, "times");
  checkRange(name("tank share"), part.tankShare, 0, 1, "of the tank");
  checkNonNegative(name("soda"), part.sodaG, "g");
  checkNonNegative(name("anode loss"), part.anodeLossG, "g");
  checkNonNegative(name("energy"), part.energyKwh, "kW·h");
  checkNonNegative(name("disposal"), part.disposalL, "L");
  checkNonNegative(name("extra labour"), part.extraLabourMinutes ?? 0, "min");
  checkNonNegative(name("P50 hours"), part.hoursP50, "h");
  checkRange(name("P10 hours"), part.hoursP10 ?? part.hoursP50, 0, part.hoursP50, "h");
  checkRange(name("P90 hours"), part.hoursP90, part.hoursP50, Number.MAX_VALUE, "h");
}
