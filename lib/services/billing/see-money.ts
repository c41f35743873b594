import { type Actor, may, requirePermission } from "@/lib/access";
import { type Db, type DocumentRow, type PaymentRow, reading, type ShopRow } from "@/lib/data";
import { isRefusal } from "@/lib/errors";
import {
  type Balance,
  billOf,
  type CreditableLine,
  creditable,
  daysOverdue,
  type TaxRule,
} from "@/lib/pricing";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { ratesOn } from "../rates";
import { acceptedOf } from "./accepted";
import { type JobAccount, accountOf, creditedLines, leftOf } from "./account";
import { unfinished } from "./issue";

export type ShownDocument = DocumentRow & {
  /** number of the statement that a credit note is of */
  readonly ofNumber: number | null;
  /** of a statement, less its credit notes */
  readonly leftMinor: number;
};

export type ShownPayment = PaymentRow & {
  /** the entry that took this one back */
  readonly takenBackById: string | null;
};

/** Where a job stands: asked, charged, credited, paid, and what is still owed. */
export type JobMoney = {
  readonly job: JobAccount["job"];
  readonly balance: Balance;
  /** newest first */
  readonly documents: readonly ShownDocument[];
  /** newest first */
  readonly payments: readonly ShownPayment[];
  readonly open: DocumentRow | null;
  /** lines of the open statement, with what is left to credit */
  readonly creditable: readonly CreditableLine[];
  /** 0 where nothing is owed, or not yet due */
  readonly daysOverdue: number;
  readonly accepted: {
    readonly quoteNumbers: readonly number[];
    readonly totalMinor: number;
    readonly depositMinor: number;
  };
  /** what of the deposit has not been paid; 0 once a statement stands */
  readonly depositDueMinor: number;
  /** marks of parts that are still to be done */
  readonly unfinished: readonly string[];
  /** of the rate card in force; none before there is one */
  readonly taxRules: readonly TaxRule[];
  /** whether amounts of lines agreed later are typed with their tax */
  readonly pricesIncludeTax: boolean;
  readonly mayBill: boolean;
  readonly shop: ShopRow;
};

/** @throws Refusal not-allowed | not-found */
export async function jobMoney(actor: Actor, jobId: string, now: Date): Promise<JobMoney> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const shop = await requireShop(db);
    const today = calendarDay(now, shop.timeZone);
    const account = await accountOf(db, jobId, shop.currency);
    const [accepted, rates] = await Promise.all([
      acceptedOf(db, jobId),
      // Money may come in before there is a rate card; only lines agreed later need one.
      ratesOn(db, shop, today).catch((error: unknown) => {
        if (isRefusal(error)) return null;
        throw error;
      }),
    ]);
    const { open, documents, balance } = account;
    const { depositMinor, quoteNumbers } = accepted;
    return {
      job: account.job,
      balance,
      documents: shownDocuments(documents),
      payments: shownPayments(account.payments),
      open,
      creditable: open ? creditable(open, creditedLines(open.id, documents)) : [],
      daysOverdue: overdueOf(account, today),
      accepted: { quoteNumbers, depositMinor, totalMinor: billOf(accepted.pieces).totalMinor },
      depositDueMinor: open ? 0 : Math.max(0, depositMinor - balance.paidMinor),
      unfinished: unfinished(account.job),
      taxRules: rates?.taxRules ?? [],
      pricesIncludeTax: rates?.pricesIncludeTax ?? false,
      mayBill: may(actor, "bill"),
      shop,
    };
  });
}

function overdueOf({ open, balance }: JobAccount, today: Date): number {
  return open?.dueOn && balance.balanceMinor > 0 ? daysOverdue(open.dueOn, today) : 0;
}

function shownDocuments(documents: readonly DocumentRow[]): readonly ShownDocument[] {
  const numbers = new Map(documents.map(({ id, number }) => [id, number]));
  return [...documents].reverse().map((document) => ({
    ...document,
    ofNumber: numbers.get(document.refersToId ?? "") ?? null,
    leftMinor: leftOf(document, documents),
  }));
}

function shownPayments(payments: readonly PaymentRow[]): readonly ShownPayment[] {
  const takenBack = new Map(payments.map(({ id, correctsId }) => [correctsId, id]));
  return [...payments].reverse().map((payment) => ({
    ...payment,
    takenBackById: takenBack.get(payment.id) ?? null,
  }));
}

/** What a job owes at this moment, for the pages from which its parts leave. */
export type JobOwes = {
  /** above 0 is owed to the shop */
  readonly balanceMinor: number;
  readonly daysOverdue: number;
  /** a statement was written for it */
  readonly charged: boolean;
};

/** What is owed of a job; null for those who do not see money. @throws Refusal not-found */
export async function jobOwes(actor: Actor, jobId: string, now: Date): Promise<JobOwes | null> {
  if (!may(actor, "see-money")) return null;
  return reading(async (db: Db) => {
    const shop = await requireShop(db);
    const account = await accountOf(db, jobId, shop.currency);
    return {
      balanceMinor: account.balance.balanceMinor,
      daysOverdue: overdueOf(account, calendarDay(now, shop.timeZone)),
      charged: account.documents.length > 0,
    };
  });
}
