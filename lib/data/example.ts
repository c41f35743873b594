import type { Db } from "./client";
import type { Prisma } from "./generated/client";

/** Rows of the example shop, table by table, in the order in which foreign keys need them. */
export type ExampleRows = {
  readonly openingHours: Prisma.OpeningHoursCreateManyInput[];
  readonly people: Prisma.PersonCreateManyInput[];
  readonly rateCards: Prisma.RateCardCreateManyInput[];
  readonly supplies: Prisma.SupplyCreateManyInput[];
  readonly tanks: Prisma.TankCreateManyInput[];
  readonly levelMarks: Prisma.TankLevelMarkCreateManyInput[];
  readonly items: Prisma.ItemCreateManyInput[];
  readonly lots: Prisma.LotCreateManyInput[];
  readonly anodes: Prisma.AnodeCreateManyInput[];
  readonly weighings: Prisma.AnodeWeighingCreateManyInput[];
  readonly baths: Prisma.BathCreateManyInput[];
  readonly bathAdditions: Prisma.BathAdditionCreateManyInput[];
  readonly care: Prisma.TankCareCreateManyInput[];
  readonly customers: Prisma.CustomerCreateManyInput[];
  readonly jobs: Prisma.JobCreateManyInput[];
  readonly parts: Prisma.PartCreateManyInput[];
  readonly verdicts: Prisma.VerdictCreateManyInput[];
  readonly plans: Prisma.PlanCreateManyInput[];
  readonly reliefBakes: Prisma.ReliefBakeCreateManyInput[];
  readonly quotes: Prisma.QuoteCreateManyInput[];
  readonly quoteVersions: Prisma.QuoteVersionCreateManyInput[];
  readonly quoteLines: Prisma.QuoteLineCreateManyInput[];
  readonly runs: Prisma.RunCreateManyInput[];
  readonly dips: Prisma.DipCreateManyInput[];
  readonly holds: Prisma.TankHoldCreateManyInput[];
  readonly readings: Prisma.ReadingCreateManyInput[];
  readonly wear: Prisma.AnodeWearCreateManyInput[];
  readonly ledger: Prisma.LedgerEntryCreateManyInput[];
  readonly stockCounts: Prisma.StockCountCreateManyInput[];
  readonly labour: Prisma.LabourEntryCreateManyInput[];
  readonly audit: Prisma.AuditEntryCreateManyInput[];
};

/** An empty set of rows to fill. */
export function noExampleRows(): ExampleRows {
  return {
    openingHours: [],
    people: [],
    rateCards: [],
    supplies: [],
    tanks: [],
    levelMarks: [],
    items: [],
    lots: [],
    anodes: [],
    weighings: [],
    baths: [],
    bathAdditions: [],
    care: [],
    customers: [],
    jobs: [],
    parts: [],
    verdicts: [],
    plans: [],
    reliefBakes: [],
    quotes: [],
    quoteVersions: [],
    quoteLines: [],
    runs: [],
    dips: [],
    holds: [],
    readings: [],
    wear: [],
    ledger: [],
    stockCounts: [],
    labour: [],
    audit: [],
  };
}

/** Writes the example shop and moves the counters past its numbers. Runs inside the transaction that opens the shop. */
export async function insertExampleRows(db: Db, rows: ExampleRows): Promise<void> {
  await insertSettings(db, rows);
  await insertWork(db, rows);
  await moveCounters(db, rows);
}

async function insertSettings(db: Db, rows: ExampleRows): Promise<void> {
  await db.openingHours.createMany({ data: rows.openingHours });
  await db.person.createMany({ data: rows.people });
  await db.rateCard.createMany({ data: rows.rateCards });
  await db.supply.createMany({ data: rows.supplies });
  await db.tank.createMany({ data: rows.tanks });
  await db.tankLevelMark.createMany({ data: rows.levelMarks });
  await db.item.createMany({ data: rows.items });
  await db.lot.createMany({ data: rows.lots });
  await db.anode.createMany({ data: rows.anodes });
  await db.anodeWeighing.createMany({ data: rows.weighings });
  await db.bath.createMany({ data: rows.baths });
  await db.bathAddition.createMany({ data: rows.bathAdditions });
  await db.tankCare.createMany({ data: rows.care });
}

async function insertWork(db: Db, rows: ExampleRows): Promise<void> {
  await db.customer.createMany({ data: rows.customers });
  await db.job.createMany({ data: rows.jobs });
  await db.part.createMany({ data: rows.parts });
  await db.verdict.createMany({ data: rows.verdicts });
  await db.plan.createMany({ data: rows.plans });
  await db.reliefBake.createMany({ data: rows.reliefBakes });
  await db.quote.createMany({ data: rows.quotes });
  await db.quoteVersion.createMany({ data: rows.quoteVersions });
  await db.quoteLine.createMany({ data: rows.quoteLines });
  await db.run.createMany({ data: rows.runs });
  await db.dip.createMany({ data: rows.dips });
  await db.tankHold.createMany({ data: rows.holds });
  await db.reading.createMany({ data: rows.readings });
  await db.anodeWear.createMany({ data: rows.wear });
  // The ledger's trigger moves each lot; oldest first, so that no lot is drawn before it came in.
  const ledger = [...rows.ledger].sort((a, b) => instant(a.at) - instant(b.at));
  // Its lines were written as things happened.
  await db.ledgerEntry.createMany({
    data: ledger.map((line) => ({ writtenAt: line.at, ...line })),
  });
  await db.stockCount.createMany({ data: rows.stockCounts });
  await db.labourEntry.createMany({ data: rows.labour });
  await db.auditEntry.createMany({ data: rows.audit });
}

const instant = (at: Date | string): number => new Date(at).getTime();

async function moveCounters(db: Db, rows: ExampleRows): Promise<void> {
  const highest = {
    job: Math.max(0, ...rows.jobs.map((job) => job.number)),
    quote: Math.max(0, ...rows.quotes.map((quote) => quote.number)),
    run: Math.max(0, ...rows.runs.map((run) => run.number)),
  };
  for (const [name, value] of Object.entries(highest)) {
    await db.counter.update({ where: { name }, data: { value } });
  }
}
