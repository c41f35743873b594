import { minorDigits } from "@/lib/money";
import type { Standing, Worked, WorkedInput } from "@/lib/units";

/** An amount of minor units, which may be a fraction while a rate, in whole units of its currency. */
const inMajor = (minor: number, currency: string): number => minor / 10 ** minorDigits(currency);

type MoneyFigure = Omit<Worked, "value" | "unit" | "low" | "high"> & {
  readonly minor: number;
  readonly lowMinor?: number;
  readonly highMinor?: number;
  readonly currency: string;
};

/** An amount of money as a figure that explains itself; its unit is the currency. */
export function workedMoney(figure: MoneyFigure): Worked {
  const { minor, lowMinor, highMinor, currency, ...rest } = figure;
  return {
    ...rest,
    value: inMajor(minor, currency),
    unit: currency,
    ...(lowMinor !== undefined && { low: inMajor(lowMinor, currency) }),
    ...(highMinor !== undefined && { high: inMajor(highMinor, currency) }),
  };
}

type InputOrigin = {
  readonly standing: Standing;
  readonly symbol?: string;
  readonly source?: string;
};

/** An amount of money that goes into another. */
export function moneyInput(
  name: string,
  minor: number,
  currency: string,
  origin: InputOrigin,
): WorkedInput {
  return { name, value: inMajor(minor, currency), unit: currency, ...origin };
}

/** A rate per unit from the rate card. */
export function rateInput(
  symbol: string,
  minor: number,
  per: string,
  currency: string,
): WorkedInput {
  return {
    name: "rate",
    symbol,
    value: inMajor(minor, currency),
    unit: `${currency}/${per}`,
    standing: "entered here",
    source: "rate card",
  };
}

/** A percentage from the rate card or the quote. */
export function percentInput(name: string, symbol: string, value: number): WorkedInput {
  return { name, symbol, value, unit: "%", standing: "entered here", source: "rate card" };
}
