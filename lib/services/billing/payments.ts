import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findPayment,
  inTransaction,
  insertPayment,
  type PaymentMethod,
  paymentIsEntered,
  recordAudit,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { type JobAccount, lockedAccountOf } from "./account";

/** How money changes hands. */
export const PAYMENT_METHODS = [
  "CASH",
  "CARD",
  "TRANSFER",
  "CHEQUE",
  "OTHER",
] as const satisfies readonly PaymentMethod[];

export type EnteredPayment = {
  /** whole minor units, above 0 */
  readonly amountMinor: number;
  /** midnight UTC, today or before */
  readonly receivedOn: Date;
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly note: string;
};

export type NewPaymentOfJob = EnteredPayment & {
  readonly jobId: string;
  /** money that goes back to the customer */
  readonly refund: boolean;
  readonly idempotencyKey: string;
};

/** The most that one entry is trusted with: the database keeps whole minor units of four bytes. */
const MOST_MINOR = 2_000_000_000;

/**
 * Writes down money that came in for a job, before its statement or after, or that went back. A repeated key writes once.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict where more would go back than was paid
 */
export async function recordPayment(
  actor: Actor,
  payment: NewPaymentOfJob,
  now: Date,
): Promise<void> {
  requirePermission(actor, "bill");
  await inTransaction(async (db) => {
    const shop = await requireShop(db);
    const account = await lockedAccountOf(db, payment.jobId, shop.currency);
    if (await paymentIsEntered(db, payment.idempotencyKey)) return;
    check(payment, shop, now);
    await enter(db, actor, account, payment, now);
    const action = payment.refund ? "payment.refunded" : "payment.recorded";
    await audit(db, actor, now, action, payment.jobId, payment.amountMinor);
  });
}

function check(payment: EnteredPayment, { timeZone }: ShopRow, now: Date): void {
  const { amountMinor, receivedOn } = payment;
  if (!(Number.isInteger(amountMinor) && amountMinor > 0 && amountMinor <= MOST_MINOR)) {
    throw new Refusal("invalid", "An amount above zero was expected.", {
      amount: "Enter an amount above zero.",
    });
  }
  if (receivedOn > calendarDay(now, timeZone)) {
    throw new Refusal("invalid", "Money cannot have come on a day that is not here yet.", {
      receivedOn: "Choose today or an earlier day.",
    });
  }
}

async function enter(
  db: Db,
  actor: Actor,
  { open }: JobAccount,
  payment: NewPaymentOfJob,
  now: Date,
): Promise<void> {
  const { jobId, receivedOn, method, reference, note, idempotencyKey } = payment;
  await insertPayment(db, {
    jobId,
    documentId: open?.id ?? null,
    receivedOn,
    amountMinor: payment.refund ? -payment.amountMinor : payment.amountMinor,
    method,
    reference,
    note,
    correctsId: null,
    enteredAt: now,
    enteredById: actor.personId,
    idempotencyKey,
  });
}

export type Correction = {
  readonly paymentId: string;
  readonly reason: string;
  /** what should have been entered; null where nothing should */
  readonly instead: EnteredPayment | null;
  readonly idempotencyKey: string;
};

/**
 * Takes an entry back by one of the other sign that names it, and enters what is right. Nothing is changed or deleted.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict where it was taken back before, or more went back since
 */
export async function correctPayment(actor: Actor, asked: Correction, now: Date): Promise<void> {
  requirePermission(actor, "bill");
  if (asked.reason.trim() === "") {
    throw new Refusal("invalid", "A correction says why.", { reason: "Say why." });
  }
  await inTransaction(async (db) => {
    const wrong = await findPayment(db, asked.paymentId);
    if (!wrong) throw new Refusal("not-found", "There is no such payment.");
    if (wrong.correctsId) {
      throw new Refusal("conflict", "This entry takes another back: enter what is right anew.");
    }
    const shop = await requireShop(db);
    const { jobId } = wrong;
    const account = await lockedAccountOf(db, jobId, shop.currency);
    const { idempotencyKey, instead } = asked;
    if (await paymentIsEntered(db, idempotencyKey)) return;
    // First what is right: the sum of a job's payments may not be below zero in between either.
    if (instead) {
      check(instead, shop, now);
      const refund = wrong.amountMinor < 0;
      const right = { ...instead, jobId, refund, idempotencyKey: `${idempotencyKey} instead` };
      await enter(db, actor, account, right, now);
    }
    await insertPayment(db, {
      jobId,
      documentId: account.open?.id ?? null,
      receivedOn: wrong.receivedOn,
      amountMinor: -wrong.amountMinor,
      method: wrong.method,
      reference: wrong.reference,
      note: asked.reason.trim(),
      correctsId: wrong.id,
      enteredAt: now,
      enteredById: actor.personId,
      idempotencyKey,
    });
    await audit(db, actor, now, "payment.taken-back", jobId, wrong.amountMinor);
  });
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  amountMinor: number,
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "job",
    subjectId,
    detail: { amountMinor },
  });
}
