import { roundHalfEven } from "@/lib/money";
import { checkNonNegative, type Worked } from "@/lib/units";
import { workedDirect } from "./direct-cost";
import {
  type CostComparison,
  type CostLine,
  type JobActuals,
  type JobCost,
  LINE_KIND_WORDS,
  LINE_KINDS,
  type LineKind,
} from "./lines";
import { total } from "./part-price";
import { type OverheadBearer, overheadMinor, workedOverhead } from "./overhead";
import { checkRateCard, type RateCard } from "./rate-card";
import { moneyInput, workedMoney } from "./worked-money";

type CostKind = Exclude<LineKind, "MARGIN">;
type Actual = { readonly minor: number; readonly worked: Worked };

const COST_KINDS = LINE_KINDS.filter((kind) => kind !== "MARGIN");

/**
 * What a job took against what was estimated, kind by kind, and what it left the shop.
 *
 * Labour and stock come in at what they cost when they were written down; tank time, energy and disposal at the rates
 * given; overhead at its percentage of what the job really took.
 *
 * @param estimate       the shop's lines of the quote; empty where nothing was quoted
 * @param quotedNetMinor what the customer pays before tax; null before a quote
 * @param price          how that is named in the working: as it was quoted, or as it was really charged
 * @throws RangeError if an amount is negative or not finite
 * @example jobCost(priced.costs, actuals, rates, priced.netMinor).marginPercent // 18.5
 */
export function jobCost(
  estimate: readonly CostLine[],
  actuals: JobActuals,
  rates: RateCard,
  quotedNetMinor: number | null,
  price: "quoted" | "charged" = "quoted",
): JobCost {
  checkRateCard(rates);
  for (const [name, value] of Object.entries(actuals)) checkNonNegative(name, value, "");
  const actual = actualCosts(actuals, rates);
  const lines = COST_KINDS.map((kind) => compare(kind, estimate, actual[kind]));
  const estimatedMinor = total(lines.map((line) => line.estimatedMinor));
  const actualMinor = total(lines.map((line) => line.actualMinor));
  const marginMinor = quotedNetMinor === null ? null : quotedNetMinor - actualMinor;
  return {
    currency: rates.currency,
    lines,
    estimatedMinor,
    actualMinor,
    varianceMinor: actualMinor - estimatedMinor,
    quotedNetMinor,
    marginMinor,
    marginPercent: marginMinor === null ? null : share(marginMinor, quotedNetMinor ?? 0),
    cost: workedCost(lines, actualMinor, rates.currency),
    margin:
      quotedNetMinor === null
        ? null
        : workedMargin(price, quotedNetMinor, actualMinor, rates.currency),
  };
}

function actualCosts(actuals: JobActuals, rates: RateCard): Readonly<Record<CostKind, Actual>> {
  const { currency } = rates;
  const rated = (
    kind: "TANK_TIME" | "ENERGY" | "DISPOSAL",
    amount: number,
    rate: number,
  ): Actual => {
    const minor = roundHalfEven(amount * rate);
    return { minor, worked: workedDirect(kind, { amount, rate, minor }, rates, "measured here") };
  };
  const { energyKwh, energyMinor } = actuals;
  const energyRate = energyKwh > 0 ? energyMinor / energyKwh : rates.energyPerKwhMinor;
  const direct = {
    LABOUR: written("LABOUR", actuals.labourMinor, currency, "labour entries"),
    TANK_TIME: rated("TANK_TIME", actuals.tankHours, rates.tankHourMinor),
    SODA: written("SODA", actuals.sodaMinor, currency, "stock ledger"),
    ANODE_STEEL: written(
      "ANODE_STEEL",
      actuals.anodeSteelMinor,
      currency,
      "anode wear and stock ledger",
    ),
    ENERGY: rated("ENERGY", energyKwh, energyRate),
    CONSUMABLES: written("CONSUMABLES", actuals.consumablesMinor, currency, "stock ledger"),
    DISPOSAL: rated("DISPOSAL", actuals.disposalL, rates.disposalPerLitreMinor),
  };
  const directMinor = total(Object.values(direct).map(({ minor }) => minor));
  return {
    ...direct,
    CONTINGENCY: noContingency(currency),
    OVERHEAD: overhead(
      { directMinor, labourMinor: direct.LABOUR.minor, tankHours: actuals.tankHours },
      rates,
    ),
  };
}

/** What stands in the shop's own records at its cost, in whole minor units. */
function written(kind: CostKind, minor: number, currency: string, source: string): Actual {
  const whole = roundHalfEven(minor);
  return {
    minor: whole,
    worked: workedMoney({
      name: LINE_KIND_WORDS[kind],
      minor: whole,
      currency,
      formula: "C = Σ entries",
      inputs: [moneyInput("entries", minor, currency, { standing: "measured here", source })],
      standing: "measured here",
      source,
    }),
  };
}

function noContingency(currency: string): Actual {
  return {
    minor: 0,
    worked: workedMoney({
      name: LINE_KIND_WORDS.CONTINGENCY,
      minor: 0,
      currency,
      formula: "C = 0",
      inputs: [],
      standing: "measured here",
      note: "Known hours need no contingency: what they cost stands under tank time, energy and anode steel.",
    }),
  };
}

function overhead(bearer: OverheadBearer, rates: RateCard): Actual {
  const minor = overheadMinor(bearer, rates);
  return { minor, worked: workedOverhead(bearer, minor, rates, "measured here") };
}

function compare(kind: CostKind, estimate: readonly CostLine[], actual: Actual): CostComparison {
  const estimatedMinor = total(
    estimate.filter((line) => line.kind === kind).map(({ minor }) => minor),
  );
  const varianceMinor = actual.minor - estimatedMinor;
  return {
    kind,
    estimatedMinor,
    actualMinor: actual.minor,
    varianceMinor,
    variancePercent: share(varianceMinor, estimatedMinor),
    worked: actual.worked,
  };
}

const share = (part: number, whole: number): number | null =>
  whole === 0 ? null : (part / whole) * 100;

function workedCost(lines: readonly CostComparison[], minor: number, currency: string): Worked {
  return workedMoney({
    name: "job cost",
    minor,
    currency,
    formula: "C = Σ lines",
    inputs: lines.map((line) =>
      moneyInput(LINE_KIND_WORDS[line.kind], line.actualMinor, currency, {
        standing: line.worked.standing,
      }),
    ),
    standing: "entered here",
  });
}

function workedMargin(
  price: string,
  quotedNetMinor: number,
  actualMinor: number,
  currency: string,
): Worked {
  return workedMoney({
    name: "margin",
    minor: quotedNetMinor - actualMinor,
    currency,
    formula: "M = N − C",
    inputs: [
      moneyInput(`${price}, before tax`, quotedNetMinor, currency, {
        symbol: "N",
        standing: "entered here",
      }),
      moneyInput("job cost", actualMinor, currency, { symbol: "C", standing: "entered here" }),
    ],
    standing: "entered here",
  });
}
