/** What the example shop's customers were charged and paid: most at once, one in part, one late, one with a credit. */
import { creditOf, type TaxTotal } from "@/lib/pricing";
import { DAY, dayOf } from "./calendar";
import type { World } from "./world";

type DocumentRow = World["rows"]["documents"][number] & { readonly id: string };
type PaymentMethod = World["rows"]["payments"][number]["method"];
type OptionRow = World["rows"]["quoteOptions"][number];

const DUE_DAYS = 14;
const METHODS: readonly PaymentMethod[] = ["CARD", "CASH", "TRANSFER", "CARD"];
/** Of the jobs that were handed back, counted from the newest: who paid otherwise than at once. */
const PAID_IN_PART = 1;
const CREDITED = 4;
/** The newest statement that is longer due than this is the one that nobody paid. */
const LATE_DAYS = 20;

/** Writes a statement for every job that was done and handed back, and what was paid for it. */
export function addBilling(world: World, shopName: string): void {
  const done = world.rows.jobs
    .flatMap((job) => {
      const closedAt = job.state === "CLOSED" && job.closedAt ? new Date(job.closedAt) : null;
      const option = acceptedOption(world, job.id);
      return closedAt && option ? [{ job, closedAt, option }] : [];
    })
    .sort((a, b) => a.closedAt.getTime() - b.closedAt.getTime());
  const late = done.findLast(({ closedAt }) => daysBefore(world, closedAt) > LATE_DAYS);
  done.forEach((one, index) => {
    const { closedAt, option } = one;
    const fromNewest = done.length - 1 - index;
    const statement = addStatement(world, shopName, one.job, closedAt, option, index + 1);
    if (one === late) return;
    const credited = fromNewest === CREDITED ? addCredit(world, statement, option, closedAt) : 0;
    const owed = statement.totalMinor - credited;
    const amountMinor = fromNewest === PAID_IN_PART ? Math.round(owed / 2) : owed;
    pay(world, statement, amountMinor, closedAt, METHODS[index % METHODS.length] ?? "CARD");
  });
}

const daysBefore = (world: World, at: Date): number => (world.now.getTime() - at.getTime()) / DAY;

function acceptedOption({ rows }: World, jobId: string | undefined): OptionRow | undefined {
  const quotes = rows.quotes.filter((quote) => quote.jobId === jobId).map(({ id }) => id);
  const version = rows.quoteVersions.find(
    ({ quoteId, state }) => state === "ACCEPTED" && quotes.includes(quoteId),
  );
  return rows.quoteOptions.find(({ id }) => id !== undefined && id === version?.acceptedOptionId);
}

const linesOf = ({ rows }: World, option: OptionRow) =>
  rows.quoteLines.filter(({ quoteOptionId }) => quoteOptionId === option.id);

function addStatement(
  world: World,
  shopName: string,
  job: World["rows"]["jobs"][number],
  at: Date,
  option: OptionRow,
  number: number,
): DocumentRow {
  const { rows, chance, people, currency, zone } = world;
  const customer = rows.customers.find(({ id }) => id === job.customerId);
  const lines = linesOf(world, option);
  const statement: DocumentRow = {
    id: chance.uuid(),
    kind: "STATEMENT",
    number,
    jobId: job.id ?? "",
    issuedAt: at,
    issuedById: people.deskId,
    dueOn: dayOf(zone, new Date(at.getTime() + DUE_DAYS * DAY)),
    currency,
    customerName: customer?.name ?? "",
    customerAddress: customer?.address ?? "",
    shopName,
    shopAddress: "",
    shopEmail: "",
    shopPhone: "",
    shopTaxNumber: "",
    netMinor: option.netMinor,
    taxMinor: option.taxMinor,
    totalMinor: option.totalMinor,
    taxes: option.taxes,
    lineCount: lines.length,
    terms: `Within ${DUE_DAYS} days, at the counter or by transfer.`,
    idempotencyKey: chance.uuid(),
  };
  rows.documents.push(statement);
  addLines(world, statement.id, lines);
  audit(world, at, "statement.issued", statement.jobId);
  return statement;
}

function addLines(world: World, documentId: string, lines: ReturnType<typeof linesOf>): void {
  lines.forEach(({ partId, label, detail, taxCode, netMinor, taxMinor }, position) =>
    world.rows.documentLines.push({
      documentId,
      position,
      partId: partId ?? null,
      label,
      detail: detail ?? "",
      taxCode,
      netMinor,
      taxMinor,
    }),
  );
}

function audit({ rows, people }: World, at: Date, action: string, subjectId: string): void {
  rows.audit.push({ at, personId: people.deskId, action, subjectType: "job", subjectId });
}

/** A tenth of the first line, given back for a scratch. @returns whole minor units */
function addCredit(world: World, statement: DocumentRow, option: OptionRow, at: Date): number {
  const { rows, chance } = world;
  const lines = linesOf(world, option).map((line) => ({
    partId: line.partId ?? null,
    label: line.label,
    detail: line.detail ?? "",
    quantity: null,
    taxCode: line.taxCode,
    netMinor: line.netMinor,
    taxMinor: line.taxMinor,
  }));
  const { netMinor, taxMinor, totalMinor } = statement;
  // The column holds what quoteLines made.
  const taxes = statement.taxes as unknown as readonly TaxTotal[];
  const first = lines[0];
  const grossMinor = first ? Math.round((first.netMinor + first.taxMinor) / 10) : 0;
  const bill = creditOf(
    { lines, taxes, netMinor, taxMinor, totalMinor },
    [],
    [{ position: 0, grossMinor }],
  );
  const id = chance.uuid();
  rows.documents.push({
    ...statement,
    id,
    kind: "CREDIT_NOTE",
    number: 1,
    refersToId: statement.id,
    // A moment after its statement, which it names.
    issuedAt: new Date(at.getTime() + 60_000),
    dueOn: null,
    netMinor: bill.netMinor,
    taxMinor: bill.taxMinor,
    totalMinor: bill.totalMinor,
    taxes: [...bill.taxes],
    lineCount: bill.lines.length,
    reason: "A scratch while it was brushed, agreed at the counter.",
    terms: "",
    idempotencyKey: chance.uuid(),
  });
  bill.lines.forEach((line, position) =>
    rows.documentLines.push({ ...line, documentId: id, position }),
  );
  audit(world, at, "credit-note.issued", statement.jobId);
  return bill.totalMinor;
}

function pay(
  { rows, chance, people, zone }: World,
  statement: DocumentRow,
  amountMinor: number,
  at: Date,
  method: PaymentMethod,
): void {
  rows.payments.push({
    id: chance.uuid(),
    jobId: statement.jobId,
    documentId: statement.id,
    receivedOn: dayOf(zone, at),
    amountMinor,
    method,
    enteredAt: at,
    enteredById: people.deskId,
    idempotencyKey: chance.uuid(),
  });
}
