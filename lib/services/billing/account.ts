import {
  type BilledJob,
  type Db,
  type DocumentRow,
  documentsOfJob,
  findBilledJob,
  lockJobForQuote,
  type PaymentRow,
  paymentsOfJob,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Balance, balanceOf, type CreditedLine } from "@/lib/pricing";

/** Everything that was charged, credited and paid for one job. */
export type JobAccount = {
  readonly job: BilledJob;
  readonly documents: readonly DocumentRow[];
  readonly payments: readonly PaymentRow[];
  readonly balance: Balance;
  /** the statement that is not credited whole; null where there is none */
  readonly open: DocumentRow | null;
};

/** @throws Refusal not-found */
export async function accountOf(db: Db, jobId: string, currency: string): Promise<JobAccount> {
  const job = await findBilledJob(db, jobId);
  if (!job) throw new Refusal("not-found", "There is no such job.");
  const documents = await documentsOfJob(db, jobId);
  const payments = await paymentsOfJob(db, jobId);
  const statements = documents.filter(({ kind }) => kind === "STATEMENT");
  const account = {
    statementMinors: statements.map(({ totalMinor }) => totalMinor),
    creditMinors: creditNotes(documents).map(({ totalMinor }) => totalMinor),
    paymentMinors: payments.map(({ amountMinor }) => amountMinor),
  };
  return {
    job,
    documents,
    payments,
    balance: balanceOf(account, currency),
    open: statements.find((one) => leftOf(one, documents) > 0) ?? null,
  };
}

/** The same, with the job locked: nobody charges, credits or pays in between. @throws Refusal not-found */
export async function lockedAccountOf(
  db: Db,
  jobId: string,
  currency: string,
): Promise<JobAccount> {
  await lockJobForQuote(db, jobId);
  return accountOf(db, jobId, currency);
}

const creditNotes = (documents: readonly DocumentRow[]): readonly DocumentRow[] =>
  documents.filter(({ kind }) => kind === "CREDIT_NOTE");

/** What is left of a statement, less its credit notes, in whole minor units. */
export function leftOf(
  statement: Pick<DocumentRow, "id" | "totalMinor">,
  documents: readonly DocumentRow[],
): number {
  return creditNotes(documents)
    .filter(({ refersToId }) => refersToId === statement.id)
    .reduce((left, { totalMinor }) => left - totalMinor, statement.totalMinor);
}

/** The lines of a statement's credit notes, as the calculation takes them. */
export function creditedLines(
  statementId: string,
  documents: readonly DocumentRow[],
): readonly CreditedLine[] {
  return creditNotes(documents)
    .filter(({ refersToId }) => refersToId === statementId)
    .flatMap(({ lines }) => lines)
    .flatMap(({ ofPosition, ...line }) => (ofPosition === null ? [] : [{ ...line, ofPosition }]));
}
