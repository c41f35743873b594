import { type Actor, requirePermission } from "@/lib/access";
import {
  type BilledJob,
  type Db,
  documentOfKey,
  inTransaction,
  insertDocument,
  nextNumber,
  type PaymentRow,
  recordAudit,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Bill, billOf } from "@/lib/pricing";
import { addDays, calendarDay, dateText } from "../calendar";
import { requireShop } from "../open-shop";
import { ratesOn } from "../rates";
import { acceptedOf, type Extra, extraPiece } from "./accepted";
import { type JobAccount, lockedAccountOf } from "./account";

export type NewStatement = {
  readonly jobId: string;
  /** work and reductions agreed after the quote */
  readonly extras: readonly Extra[];
  /** written though a part of the job is not done */
  readonly evenUnfinished: boolean;
  readonly idempotencyKey: string;
};

/** States in which nothing more is to be done to a part. */
const DONE: readonly string[] = ["FINISHED", "HANDED_BACK", "REFUSED"];

/** Marks of the parts that are still to be done. */
export function unfinished({ parts, state }: BilledJob): readonly string[] {
  if (state !== "OPEN") return [];
  return parts.filter((part) => !DONE.includes(part.state)).map(({ mark }) => mark);
}

/**
 * Writes the final statement of a job: the accepted options, what was agreed since, less what has been paid. Its number
 * comes from a counter in the same transaction, so that numbers have no gaps.
 *
 * @returns its id; of a key that was used before, the id of what it wrote
 * @throws Refusal not-allowed | not-found | invalid | conflict while a part is not done, and where a statement stands
 */
export async function issueStatement(
  actor: Actor,
  asked: NewStatement,
  now: Date,
): Promise<string> {
  requirePermission(actor, "bill");
  return inTransaction(async (db) => {
    const shop = await requireShop(db);
    const account = await lockedAccountOf(db, asked.jobId, shop.currency);
    const written = await documentOfKey(db, asked.idempotencyKey);
    if (written) return written;
    requireNoStatement(account);
    requireDone(account.job, asked.evenUnfinished);
    const bill = await statementBill(db, shop, asked, now);
    const number = await nextNumber(db, "statement");
    const id = await insertDocument(db, {
      ...headOf(shop, account.job, actor, now),
      kind: "STATEMENT",
      number,
      refersToId: null,
      dueOn: addDays(calendarDay(now, shop.timeZone), shop.paymentDays),
      ...bill,
      lines: bill.lines.map((line) => ({ ...line, ofPosition: null })),
      paidMinor: account.balance.paidMinor,
      paid: standing(account.payments).map(({ receivedOn, method, amountMinor }) => ({
        on: dateText(receivedOn),
        method,
        amountMinor,
      })),
      reason: "",
      terms: [shop.paymentTerms, shop.bankDetails].filter((text) => text !== "").join("\n\n"),
      idempotencyKey: asked.idempotencyKey,
    });
    await recordAudit(db, {
      actor,
      at: now,
      action: "statement.issued",
      subjectType: "job",
      subjectId: asked.jobId,
      detail: { number, totalMinor: bill.totalMinor },
    });
    return id;
  });
}

function requireNoStatement({ open }: JobAccount): void {
  if (!open) return;
  throw new Refusal(
    "conflict",
    `Statement ${open.number} stands for this job. Credit it whole before you write another.`,
  );
}

function requireDone(job: BilledJob, even: boolean): void {
  const marks = unfinished(job);
  if (marks.length === 0 || even) return;
  throw new Refusal("conflict", `Still to be done: part ${marks.join(", ")}.`, {
    evenUnfinished: "Tick this to charge before all is done.",
  });
}

async function statementBill(
  db: Db,
  shop: ShopRow,
  { jobId, extras }: NewStatement,
  now: Date,
): Promise<Bill> {
  const { pieces } = await acceptedOf(db, jobId);
  const later =
    extras.length === 0
      ? []
      : [extraPiece(extras, await ratesOn(db, shop, calendarDay(now, shop.timeZone)))];
  const bill = billOf([...pieces, ...later]);
  if (bill.lines.length === 0) {
    throw new Refusal("invalid", "There is nothing to charge: no quote was accepted.", {
      label0: "Say what is charged.",
    });
  }
  if (bill.totalMinor <= 0) {
    throw new Refusal("invalid", "The reductions leave nothing to charge.", {
      amount0: "A statement needs a total above zero.",
    });
  }
  return bill;
}

/** Who and what stands on a document, as it is now. */
export function headOf(shop: ShopRow, job: BilledJob, actor: Actor, now: Date) {
  return {
    jobId: job.id,
    issuedAt: now,
    issuedById: actor.personId,
    currency: shop.currency,
    customerName: job.customer.name,
    customerAddress: job.customer.address,
    shopName: shop.name,
    shopAddress: shop.address,
    shopEmail: shop.email,
    shopPhone: shop.phone,
    shopTaxNumber: shop.taxNumber,
  };
}

/** Payments that were not taken back, without the entries that took others back. */
function standing(payments: readonly PaymentRow[]): readonly PaymentRow[] {
  const takenBack = new Set(payments.map(({ correctsId }) => correctsId));
  return payments.filter(({ id, correctsId }) => correctsId === null && !takenBack.has(id));
}
