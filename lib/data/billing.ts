/** What customers were charged, what they were credited and what they paid: written once, never changed. */
import type { TaxTotal } from "@/lib/pricing";
import type { Db } from "./client";
import {
  type DocumentKind,
  type JobState,
  type PartState,
  type PaymentMethod,
  Prisma,
} from "./generated/client";

export type { DocumentKind, PaymentMethod };

/** A job as its statements and payments see it. */
export type BilledJob = {
  readonly id: string;
  readonly number: number;
  readonly state: JobState;
  readonly customer: { readonly id: string; readonly name: string; readonly address: string };
  readonly parts: readonly {
    readonly mark: string;
    readonly description: string;
    readonly state: PartState;
  }[];
};

export type DocumentLineRow = {
  readonly position: number;
  /** the statement's line that a credit note's line is of */
  readonly ofPosition: number | null;
  readonly partId: string | null;
  readonly label: string;
  readonly detail: string;
  readonly quantity: number | null;
  readonly taxCode: string;
  readonly netMinor: number;
  readonly taxMinor: number;
};

/** A payment as a statement tells of it. */
export type PaidThen = {
  /** YYYY-MM-DD */
  readonly on: string;
  readonly method: PaymentMethod;
  readonly amountMinor: number;
};

/** A statement or a credit note, with who and what stood on it the day it was written. */
export type DocumentRow = {
  readonly id: string;
  readonly kind: DocumentKind;
  readonly number: number;
  readonly jobId: string;
  readonly refersToId: string | null;
  readonly issuedAt: Date;
  readonly issuedBy: string;
  /** midnight UTC; statements only */
  readonly dueOn: Date | null;
  readonly currency: string;
  readonly customerName: string;
  readonly customerAddress: string;
  readonly shopName: string;
  readonly shopAddress: string;
  readonly shopEmail: string;
  readonly shopPhone: string;
  readonly shopTaxNumber: string;
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
  readonly taxes: readonly TaxTotal[];
  readonly paidMinor: number;
  readonly paid: readonly PaidThen[];
  readonly reason: string;
  readonly terms: string;
  readonly lines: readonly DocumentLineRow[];
};

export type NewDocument = Omit<DocumentRow, "id" | "issuedBy" | "lines"> & {
  readonly issuedById: string;
  readonly idempotencyKey: string;
  readonly lines: readonly Omit<DocumentLineRow, "position">[];
};

export type PaymentRow = {
  readonly id: string;
  readonly jobId: string;
  /** midnight UTC */
  readonly receivedOn: Date;
  /** negative went back to the customer */
  readonly amountMinor: number;
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly note: string;
  /** the entry that this one takes back */
  readonly correctsId: string | null;
  readonly enteredAt: Date;
  readonly enteredBy: string;
};

export type NewPayment = Omit<PaymentRow, "id" | "enteredBy"> & {
  readonly documentId: string | null;
  readonly enteredById: string;
  readonly idempotencyKey: string;
};

export async function findBilledJob(db: Db, jobId: string): Promise<BilledJob | null> {
  return db.job.findUnique({
    where: { id: jobId },
    select: {
      id: true,
      number: true,
      state: true,
      customer: { select: { id: true, name: true, address: true } },
      parts: {
        orderBy: { mark: "asc" },
        select: { mark: true, description: true, state: true },
      },
    },
  });
}

const WITH_LINES = {
  lines: { orderBy: { position: "asc" } },
  issuedBy: { select: { name: true } },
} as const satisfies Prisma.JobDocumentInclude;

function asDocumentRow(
  row: Prisma.JobDocumentGetPayload<{ include: typeof WITH_LINES }>,
): DocumentRow {
  return {
    ...row,
    issuedBy: row.issuedBy.name,
    // The JSON columns hold what insertDocument wrote.
    taxes: row.taxes as unknown as readonly TaxTotal[],
    paid: row.paid as unknown as readonly PaidThen[],
    lines: row.lines.map((line) => ({ ...line, quantity: line.quantity?.toNumber() ?? null })),
  };
}

/** Statements and credit notes of a job, in the order in which they were written. */
export async function documentsOfJob(db: Db, jobId: string): Promise<readonly DocumentRow[]> {
  const rows = await db.jobDocument.findMany({
    where: { jobId },
    orderBy: [{ issuedAt: "asc" }, { kind: "asc" }, { number: "asc" }],
    include: WITH_LINES,
  });
  return rows.map(asDocumentRow);
}

/** Net that a job was charged less what was credited, in whole minor units; null before a statement. */
export async function chargedNetOfJob(db: Db, jobId: string): Promise<number | null> {
  const sums = await db.jobDocument.groupBy({
    by: ["kind"],
    where: { jobId },
    _sum: { netMinor: true },
  });
  if (sums.length === 0) return null;
  const of = (kind: DocumentKind): number =>
    sums.find((sum) => sum.kind === kind)?._sum.netMinor ?? 0;
  return of("STATEMENT") - of("CREDIT_NOTE");
}

export async function findDocument(db: Db, id: string): Promise<DocumentRow | null> {
  const row = await db.jobDocument.findUnique({ where: { id }, include: WITH_LINES });
  return row && asDocumentRow(row);
}

/** The document that was written for this key already. @returns its id, or null */
export async function documentOfKey(db: Db, idempotencyKey: string): Promise<string | null> {
  const row = await db.jobDocument.findUnique({
    where: { idempotencyKey },
    select: { id: true },
  });
  return row?.id ?? null;
}

/** Writes a document with its lines. That it adds up is checked when the transaction ends. @returns its id */
export async function insertDocument(db: Db, document: NewDocument): Promise<string> {
  const { lines, taxes, paid, ...columns } = document;
  const row = await db.jobDocument.create({
    data: {
      ...columns,
      taxes: [...taxes],
      paid: [...paid],
      lineCount: lines.length,
      lines: { create: lines.map((line, position) => ({ ...line, position })) },
    },
    select: { id: true },
  });
  return row.id;
}

/** Payments and refunds of a job, as they were entered. */
export async function paymentsOfJob(db: Db, jobId: string): Promise<readonly PaymentRow[]> {
  const rows = await db.payment.findMany({
    where: { jobId },
    orderBy: [{ enteredAt: "asc" }, { id: "asc" }],
    include: { enteredBy: { select: { name: true } } },
  });
  return rows.map((row) => ({ ...row, enteredBy: row.enteredBy.name }));
}

export async function findPayment(db: Db, id: string): Promise<PaymentRow | null> {
  const row = await db.payment.findUnique({
    where: { id },
    include: { enteredBy: { select: { name: true } } },
  });
  return row && { ...row, enteredBy: row.enteredBy.name };
}

/** Whether this key has written a payment already. */
export async function paymentIsEntered(db: Db, idempotencyKey: string): Promise<boolean> {
  return (await db.payment.count({ where: { idempotencyKey } })) > 0;
}

export async function insertPayment(db: Db, payment: NewPayment): Promise<void> {
  await db.payment.create({ data: payment });
}

/** One job whose account is not even. */
export type OpenAccount = {
  readonly jobId: string;
  readonly jobNumber: number;
  readonly customerName: string;
  readonly customerPhone: string;
  /** of its newest statement */
  readonly statementNumber: number;
  readonly issuedAt: Date;
  /** midnight UTC */
  readonly dueOn: Date;
  /** less what was credited */
  readonly chargedMinor: number;
  readonly paidMinor: number;
  /** above 0 is owed to the shop, below 0 to the customer */
  readonly balanceMinor: number;
};

/** Every job that has a statement, with where it stands; sums of whole minor units are exact as float8 up to 2^53. */
const ACCOUNTS = Prisma.sql`
    SELECT *, "chargedMinor" - "paidMinor" AS "balanceMinor" FROM (
      SELECT j."id" AS "jobId", j."number" AS "jobNumber",
             c."name" AS "customerName", c."phone" AS "customerPhone",
             s."number" AS "statementNumber", s."issued_at" AS "issuedAt", s."due_on" AS "dueOn",
             (SELECT sum(CASE d."kind" WHEN 'STATEMENT' THEN d."total_minor" ELSE -d."total_minor" END)
                FROM "job_document" d WHERE d."job_id" = j."id")::float8 AS "chargedMinor",
             COALESCE((SELECT sum(p."amount_minor") FROM "payment" p WHERE p."job_id" = j."id"), 0)::float8
               AS "paidMinor"
        FROM "job" j
        JOIN "customer" c ON c."id" = j."customer_id"
        JOIN LATERAL (SELECT * FROM "job_document" d
                       WHERE d."job_id" = j."id" AND d."kind" = 'STATEMENT'
                       ORDER BY d."number" DESC LIMIT 1) s ON true
    ) AS sums`;

/** Jobs with a statement whose account is not even: who owes longest first, then those to whom the shop owes. */
export async function openAccounts(
  db: Db,
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<readonly OpenAccount[]> {
  return db.$queryRaw<OpenAccount[]>`
    SELECT * FROM (${ACCOUNTS}) AS account
     WHERE "balanceMinor" <> 0
     ORDER BY "balanceMinor" < 0, "dueOn", "jobNumber"
    OFFSET ${skip} LIMIT ${take}`;
}

/** What is owed by the day it was due, and how many accounts are not even. */
export async function openTotals(
  db: Db,
): Promise<readonly { dueOn: Date; accounts: number; owedMinor: number; heldMinor: number }[]> {
  return db.$queryRaw`
    SELECT "dueOn", count(*)::int AS "accounts",
           sum(GREATEST("balanceMinor", 0))::float8 AS "owedMinor",
           sum(GREATEST(-"balanceMinor", 0))::float8 AS "heldMinor"
      FROM (${ACCOUNTS}) AS account
     WHERE "balanceMinor" <> 0
     GROUP BY "dueOn"`;
}
