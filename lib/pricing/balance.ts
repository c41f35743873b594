import { checkRange, type Worked } from "@/lib/units";
import { total } from "./part-price";
import { moneyInput, workedMoney } from "./worked-money";

/** Where a customer stands with one job. Whole minor units. */
export type Balance = {
  readonly chargedMinor: number;
  readonly creditedMinor: number;
  /** what came in, less what went back */
  readonly paidMinor: number;
  /** charged − credited − paid: above 0 is owed to the shop, below 0 is held for the customer */
  readonly balanceMinor: number;
  readonly worked: Worked;
};

/** What was written for a job: amounts of credit notes are positive, refunds are negative payments. */
export type Account = {
  readonly statementMinors: readonly number[];
  readonly creditMinors: readonly number[];
  readonly paymentMinors: readonly number[];
};

/**
 * What is still owed of a job.
 *
 * @param currency ISO 4217 code
 * @example balanceOf({ statementMinors: [11900], creditMinors: [], paymentMinors: [5000] }, "EUR").balanceMinor // 6900
 */
export function balanceOf(account: Account, currency: string): Balance {
  const chargedMinor = total(account.statementMinors);
  const creditedMinor = total(account.creditMinors);
  const paidMinor = total(account.paymentMinors);
  const balanceMinor = chargedMinor - creditedMinor - paidMinor;
  const input = (name: string, symbol: string, minor: number, source: string) =>
    moneyInput(name, minor, currency, { symbol, standing: "entered here", source });
  return {
    chargedMinor,
    creditedMinor,
    paidMinor,
    balanceMinor,
    worked: workedMoney({
      name: "balance",
      minor: balanceMinor,
      currency,
      formula: "B = S − C − P",
      inputs: [
        input("charged", "S", chargedMinor, "statements of this job"),
        input("credited", "C", creditedMinor, "credit notes of this job"),
        input("paid", "P", paidMinor, "payments less refunds"),
      ],
      standing: "entered here",
      note: "Tax included. Below zero, the shop holds money of the customer, such as a deposit before the statement.",
    }),
  };
}

/** How long what is owed has been due: the usual columns of an aged list (common practice, no source). */
export const AGES = [
  "not due",
  "1 to 30 days",
  "31 to 60 days",
  "61 to 90 days",
  "over 90 days",
] as const;
export type Age = (typeof AGES)[number];

const DAY_MS = 86_400_000;

/**
 * Days since a statement was due; 0 on the day itself and before.
 *
 * @param dueOn and `today` calendar days, as midnight UTC
 * @example daysOverdue(new Date("2030-01-31"), new Date("2030-02-02")) // 2
 */
export function daysOverdue(dueOn: Date, today: Date): number {
  return Math.max(0, Math.round((today.getTime() - dueOn.getTime()) / DAY_MS));
}

/** @param days whole days overdue, 0 or more @throws RangeError otherwise @example ageOf(31) // "31 to 60 days" */
export function ageOf(days: number): Age {
  checkRange("days", days, 0, Number.MAX_SAFE_INTEGER, "days");
  return AGES[Math.min(AGES.length - 1, Math.ceil(days / 30))] ?? "over 90 days";
}
