import { type Actor, requirePermission } from "@/lib/access";
import { type OpenAccount, openAccounts, openTotals, reading, type ShopRow } from "@/lib/data";
import { csv } from "@/lib/documents";
import { majorUnits, money } from "@/lib/money";
import { type Age, ageOf, AGES, daysOverdue } from "@/lib/pricing";
import { calendarDay, dateText } from "../calendar";
import { requireShop } from "../open-shop";
import { type Paged, pageOf } from "../paging";
import type { MoneyFile } from "./document";

export type OpenBalance = OpenAccount & {
  /** 0 while it is not due, and where the shop owes */
  readonly daysOverdue: number;
};

/** Who owes what. */
export type Balances = {
  readonly page: Paged<OpenBalance>;
  /** what is owed, by how long it has been due */
  readonly ages: readonly { readonly age: Age; readonly owedMinor: number }[];
  readonly owedMinor: number;
  readonly overdueMinor: number;
  /** of customers, to be paid back or charged */
  readonly heldMinor: number;
  readonly shop: ShopRow;
};

/**
 * Jobs with a statement whose account is not even, one page: who owes longest first, then whom the shop owes.
 *
 * @throws Refusal not-allowed
 */
export async function openBalances(actor: Actor, page: number, now: Date): Promise<Balances> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const shop = await requireShop(db);
    const today = calendarDay(now, shop.timeZone);
    const totals = await openTotals(db);
    const accounts = totals.reduce((all, one) => all + one.accounts, 0);
    const list = await pageOf(page, async (skip, take) => ({
      rows: await openAccounts(db, { skip, take }),
      total: accounts,
    }));
    const ages = AGES.map((age) => ({
      age,
      owedMinor: totals
        .filter(({ dueOn }) => ageOf(daysOverdue(dueOn, today)) === age)
        .reduce((all, one) => all + one.owedMinor, 0),
    }));
    const owedMinor = ages.reduce((all, one) => all + one.owedMinor, 0);
    return {
      page: { ...list, rows: list.rows.map((row) => aged(row, today)) },
      ages,
      owedMinor,
      overdueMinor: owedMinor - (ages[0]?.owedMinor ?? 0),
      heldMinor: totals.reduce((all, one) => all + one.heldMinor, 0),
      shop,
    };
  });
}

function aged(row: OpenAccount, today: Date): OpenBalance {
  return { ...row, daysOverdue: row.balanceMinor > 0 ? daysOverdue(row.dueOn, today) : 0 };
}

/** More than a small shop has open; a list beyond it is cut, and no file grows without end. */
const MOST_ROWS = 10_000;

/** The same list whole, for a spreadsheet; amounts in the shop's currency. @throws Refusal not-allowed */
export async function openBalancesFile(actor: Actor, now: Date): Promise<MoneyFile> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const shop = await requireShop(db);
    const today = calendarDay(now, shop.timeZone);
    const rows = await openAccounts(db, { skip: 0, take: MOST_ROWS });
    const amount = (minor: number): number => majorUnits(money(minor, shop.currency));
    const bytes = csv(
      [
        "job",
        "customer",
        "telephone",
        "statement",
        "due on",
        "days overdue",
        "charged",
        "paid",
        "balance",
        "currency",
      ],
      rows
        .map((row) => aged(row, today))
        .map((row) => [
          row.jobNumber,
          row.customerName,
          row.customerPhone,
          row.statementNumber,
          dateText(row.dueOn),
          row.daysOverdue,
          amount(row.chargedMinor),
          amount(row.paidMinor),
          amount(row.balanceMinor),
          shop.currency,
        ]),
    );
    return { name: `who-owes-what-${dateText(today)}.csv`, bytes };
  });
}
