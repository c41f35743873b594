import { formatMoney, money } from "@/lib/money";

/** What amounts are written in. */
export type MoneyCustoms = { readonly currency: string; readonly locale: string };

/** Whole minor units, written for a person. @example moneyText(1250, { currency: "EUR", locale: "en-GB" }) // "€12.50" */
export function moneyText(minor: number, { currency, locale }: MoneyCustoms): string {
  return formatMoney(money(Math.round(minor), currency), locale);
}

/** The same with its sign, for differences: "+€3.20", "−€1.00". */
export function signedMoneyText(minor: number, customs: MoneyCustoms): string {
  const whole = Math.round(minor);
  const sign = whole > 0 ? "+" : whole < 0 ? "−" : "±";
  return `${sign}${moneyText(Math.abs(whole), customs)}`;
}
