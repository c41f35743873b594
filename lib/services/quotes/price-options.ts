import type {
  Db,
  NewQuoteOption,
  NewQuoteVersion,
  QuotableJob,
  QuotablePart,
  ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { money, percentOf } from "@/lib/money";
import { quoteLines, type RateCard } from "@/lib/pricing";
import { addDays, calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { ratesOn } from "../rates";
import type { StoredEstimate } from "./estimate";
import { type GoalPlanner, goalPlannerOf } from "./goal-plans";
import { pricedPart } from "./priced-part";
import { promiseFor } from "./promise";
import { checkWishes, type OptionWish, usualWishes } from "./wishes";

export type QuoteTerms = {
  /** one to four, the leading one first; "usual": what makes sense for the parts (see `usualWishes`) */
  readonly options: readonly OptionWish[] | "usual";
  /** tax rule of the rate card in force; as the customer is usually taxed where left out */
  readonly taxCode?: string | undefined;
  /** 0 to 100, asked before work begins; the shop's usual share where left out */
  readonly depositPercent?: number | undefined;
  readonly messageToCustomer: string;
  /** the shop's own terms where left out */
  readonly terms?: string | undefined;
  /** last day it holds, as midnight UTC; the shop's usual number of days from today where left out */
  readonly validUntil?: Date | undefined;
};

/**
 * Prices the parts of a job in each of the ways asked for, with the rates in force today.
 *
 * @throws Refusal conflict (nothing to price, or no tank for one of the ways) | invalid | not-found (no rates)
 */
export async function priceJob(
  db: Db,
  job: QuotableJob,
  parts: readonly QuotablePart[],
  terms: QuoteTerms,
  now: Date,
): Promise<NewQuoteVersion> {
  if (parts.length === 0) throw nothingToPrice(job);
  const shop = await requireShop(db);
  const today = calendarDay(now, shop.timeZone);
  const rates = await ratesOn(db, shop, today);
  const wishes = terms.options === "usual" ? usualWishes(parts, rates.rushPercent) : terms.options;
  checkWishes(wishes);
  checkTerms(terms, rates, today);
  const pricing: Pricing = {
    shop,
    rates,
    taxCode: terms.taxCode ?? usualTaxCode(job.customer.taxCode, rates),
    depositPercent: terms.depositPercent ?? shop.quoteDepositPercent,
    planner: goalPlannerOf(db),
  };
  const options: NewQuoteOption[] = [];
  // One after the other: a transaction is one connection.
  for (const wish of wishes) options.push(await priceOption(wish, parts, pricing));
  return {
    currency: shop.currency,
    depositPercent: pricing.depositPercent,
    terms: terms.terms ?? shop.quoteTerms,
    messageToCustomer: terms.messageToCustomer,
    validUntil: terms.validUntil ?? addDays(today, shop.quoteValidDays),
    madeAt: now,
    options,
  };
}

function nothingToPrice(job: QuotableJob): Refusal {
  return new Refusal(
    "conflict",
    job.parts.some(({ plan }) => plan !== null)
      ? "Every planned part of this job is in an accepted quote already, or was refused."
      : "No part of this job has a plan yet. Plan a part first; the price comes from its plan.",
  );
}

/** How a customer is taxed where nobody says otherwise: as kept with the customer, else by the card's first rule. */
export function usualTaxCode(ofCustomer: string, { taxRules }: Pick<RateCard, "taxRules">): string {
  const known = taxRules.some(({ code }) => code === ofCustomer);
  return known ? ofCustomer : (taxRules[0]?.code ?? "");
}

type Pricing = {
  readonly shop: ShopRow;
  readonly rates: RateCard;
  readonly taxCode: string;
  readonly depositPercent: number;
  readonly planner: GoalPlanner;
};

async function priceOption(
  wish: OptionWish,
  parts: readonly QuotablePart[],
  { shop, rates, taxCode, depositPercent, planner }: Pricing,
): Promise<NewQuoteOption> {
  const treated: QuotablePart[] = [];
  for (const part of parts) treated.push(await planner.partFor(part, wish.goal));
  const priced = quoteLines(
    treated.map((part) => pricedPart(part, shop)),
    rates,
    {
      rush: wish.rush,
      taxCode,
      ...(wish.discountPercent !== undefined && { discountPercent: wish.discountPercent }),
    },
  );
  const estimate: StoredEstimate = {
    priced,
    promises: treated.map((part) => promiseFor(part, shop.unitSystem)),
    planVersions: Object.fromEntries(parts.map(({ id, plan }) => [id, plan?.version ?? 0])),
    discountAsked: wish.discountPercent ?? null,
    plannedForGoal: treated.filter((part, index) => part !== parts[index]).map(({ id }) => id),
  };
  const total = money(priced.totalMinor, priced.currency);
  const { netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax, taxes } = priced;
  return {
    name: wish.name.trim(),
    goal: wish.goal,
    rush: wish.rush,
    discountPercent: priced.discountPercent,
    ...{ netMinor, taxMinor, totalMinor, lowMinor, highMinor, pricesIncludeTax, taxes },
    depositMinor: percentOf(total, depositPercent).minor,
    estimate,
    lines: priced.lines.map(({ kind: _, ...line }) => line),
  };
}

function checkTerms(terms: QuoteTerms, { taxRules }: RateCard, today: Date): void {
  const fields: Record<string, string> = {};
  if (!isPercent(terms.depositPercent ?? 0)) {
    fields["depositPercent"] = "A deposit is from 0 to 100 % of the total.";
  }
  if (terms.taxCode !== undefined && !taxRules.some(({ code }) => code === terms.taxCode)) {
    const known = taxRules.map(({ label }) => `“${label}”`).join(", ");
    fields["taxCode"] = `Choose how it is taxed: ${known}.`;
  }
  if (terms.validUntil && terms.validUntil < today) {
    fields["validUntil"] = "Choose today or a later day.";
  }
  const [only, ...more] = Object.values(fields);
  if (only) {
    throw new Refusal(
      "invalid",
      more.length === 0 ? only : "This quote cannot be made like this.",
      fields,
    );
  }
}

const isPercent = (value: number): boolean => value >= 0 && value <= 100;
