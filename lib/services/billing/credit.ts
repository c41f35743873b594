import { type Actor, requirePermission } from "@/lib/access";
import {
  documentOfKey,
  findDocument,
  inTransaction,
  insertDocument,
  nextNumber,
  recordAudit,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { formatMoney, money } from "@/lib/money";
import {
  type AskedCredit,
  type Bill,
  creditable,
  type CreditableLine,
  type CreditedLine,
  creditOf,
} from "@/lib/pricing";
import { requireShop } from "../open-shop";
import { creditedLines, type JobAccount, leftOf, lockedAccountOf } from "./account";
import { headOf } from "./issue";

export type NewCredit = {
  readonly statementId: string;
  /** all that is left, or amounts of lines, tax included */
  readonly asked: "rest" | readonly AskedCredit[];
  readonly reason: string;
  readonly idempotencyKey: string;
};

/**
 * Takes a statement back, whole or in part, by a document of its own. The statement itself stays as it was written.
 *
 * @returns the credit note's id; of a key that was used before, the id of what it wrote
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function creditStatement(actor: Actor, asked: NewCredit, now: Date): Promise<string> {
  requirePermission(actor, "bill");
  if (asked.reason.trim() === "") {
    throw new Refusal("invalid", "A credit note says why.", { reason: "Say why." });
  }
  return inTransaction(async (db) => {
    const shop = await requireShop(db);
    const found = await findDocument(db, asked.statementId);
    if (found?.kind !== "STATEMENT") throw new Refusal("not-found", "There is no such statement.");
    const account = await lockedAccountOf(db, found.jobId, found.currency);
    const written = await documentOfKey(db, asked.idempotencyKey);
    if (written) return written;
    const bill = creditBill(account, found.id, asked.asked, shop);
    const number = await nextNumber(db, "credit-note");
    const id = await insertDocument(db, {
      ...headOf(shop, account.job, actor, now),
      currency: found.currency,
      // To whom it was charged, whatever the customer is called by now.
      customerName: found.customerName,
      customerAddress: found.customerAddress,
      kind: "CREDIT_NOTE",
      number,
      refersToId: found.id,
      dueOn: null,
      ...bill,
      paidMinor: 0,
      paid: [],
      reason: asked.reason.trim(),
      terms: "",
      idempotencyKey: asked.idempotencyKey,
    });
    await recordAudit(db, {
      actor,
      at: now,
      action: "credit-note.issued",
      subjectType: "job",
      subjectId: found.jobId,
      detail: { number, statement: found.number, totalMinor: bill.totalMinor },
    });
    return id;
  });
}

function creditBill(
  { documents }: JobAccount,
  statementId: string,
  asked: NewCredit["asked"],
  customs: Pick<ShopRow, "currency" | "locale">,
): Bill<CreditedLine> {
  const statement = documents.find(({ id }) => id === statementId);
  if (!statement) throw new Refusal("not-found", "There is no such statement.");
  const left = leftOf(statement, documents);
  if (left === 0) throw new Refusal("conflict", "This statement is credited whole already.");
  if (asked !== "rest" && asked.length === 0) {
    throw new Refusal("invalid", "Nothing to credit.", { gross0: "Enter an amount, or tick all." });
  }
  const earlier = creditedLines(statementId, documents);
  if (asked !== "rest") requireWithin(creditable(statement, earlier), asked, customs);
  const bill = creditOf(statement, earlier, asked);
  if (bill.totalMinor > left) {
    throw new Refusal(
      "invalid",
      "These lines together are more than is left of the statement: its reductions count too. Credit less, or all that is left.",
    );
  }
  // The last of a statement is credited with every line, so that its net and its tax come to nothing too.
  return bill.totalMinor === left ? creditOf(statement, earlier, "rest") : bill;
}

function requireWithin(
  lines: readonly CreditableLine[],
  asked: readonly AskedCredit[],
  { currency, locale }: Pick<ShopRow, "currency" | "locale">,
): void {
  for (const { position, grossMinor } of asked) {
    const line = lines[position];
    const left = Math.max(0, line ? line.leftNetMinor + line.leftTaxMinor : 0);
    if (grossMinor > 0 && grossMinor <= left) continue;
    throw new Refusal("invalid", "More would be credited of a line than is left of it.", {
      [`gross${position}`]: `At most ${formatMoney(money(left, currency), locale)} is left of it.`,
    });
  }
}
