import type { Db } from "./client";
import type { NewRateCard } from "./rates";
import type { Prisma } from "./generated/client";

/** Rows of the example shop, table by table, in the order in which foreign keys need them. */
export type ExampleRows = {
  readonly openingHours: Prisma.OpeningHoursCreateManyInput[];
  readonly people: Prisma.PersonCreateManyInput[];
  readonly rateCards: NewRateCard[];
  readonly supplies: Prisma.SupplyCreateManyInput[];
  readonly tanks: Prisma.TankCreateManyInput[];
  readonly levelMarks: Prisma.TankLevelMarkCreateManyInput[];
  readonly items: Prisma.ItemCreateManyInput[];
  readonly suppliers: Prisma.SupplierCreateManyInput[];
  readonly policies: Prisma.ReorderPolicyCreateManyInput[];
  readonly purchaseOrders: Prisma.PurchaseOrderCreateManyInput[];
  readonly purchaseLines: Prisma.PurchaseLineCreateManyInput[];
  readonly lots: Prisma.LotCreateManyInput[];
  readonly sections: Prisma.ItemSectionCreateManyInput[];
  readonly offcuts: Prisma.OffcutCreateManyInput[];
  readonly epoxySheets: Prisma.EpoxySheetCreateManyInput[];
  readonly leaks: Prisma.LeakCreateManyInput[];
  readonly patches: Prisma.LeakPatchCreateManyInput[];
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
  readonly quoteOptions: Prisma.QuoteOptionCreateManyInput[];
  readonly quoteLines: Prisma.QuoteLineCreateManyInput[];
  readonly runs: Prisma.RunCreateManyInput[];
  readonly dips: Prisma.DipCreateManyInput[];
  readonly holds: Prisma.TankHoldCreateManyInput[];
  readonly readings: Prisma.ReadingCreateManyInput[];
  readonly wear: Prisma.AnodeWearCreateManyInput[];
  readonly ledger: Prisma.LedgerEntryCreateManyInput[];
  readonly documents: Prisma.JobDocumentCreateManyInput[];
  readonly documentLines: Prisma.JobDocumentLineCreateManyInput[];
  readonly payments: Prisma.PaymentCreateManyInput[];
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
    suppliers: [],
    policies: [],
    purchaseOrders: [],
    purchaseLines: [],
    lots: [],
    sections: [],
    offcuts: [],
    epoxySheets: [],
    leaks: [],
    patches: [],
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
    quoteOptions: [],
    quoteLines: [],
    runs: [],
    dips: [],
    holds: [],
    readings: [],
    wear: [],
    ledger: [],
    documents: [],
    documentLines: [],
    payments: [],
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
  await db.supplier.createMany({ data: rows.suppliers });
  await db.reorderPolicy.createMany({ data: rows.policies });
  await db.purchaseOrder.createMany({ data: rows.purchaseOrders });
  await db.purchaseLine.createMany({ data: rows.purchaseLines });
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
  await insertOffers(db, rows);
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
  await insertSteelAndEpoxy(db, rows);
  // Statements before the credit notes and payments that name them.
  const documents = [...rows.documents].sort((a, b) => instant(a.issuedAt) - instant(b.issuedAt));
  await db.jobDocument.createMany({ data: documents });
  await db.jobDocumentLine.createMany({ data: rows.documentLines });
  await db.payment.createMany({ data: rows.payments });
  await db.stockCount.createMany({ data: rows.stockCounts });
  await db.labourEntry.createMany({ data: rows.labour });
  await db.auditEntry.createMany({ data: rows.audit });
}

/**
 * Options and lines are written in drafts alone, and a quote has one draft at a time: so all first versions become what
 * they are before the second ones are written.
 */
async function insertOffers(db: Db, rows: ExampleRows): Promise<void> {
  const numbers = [...new Set(rows.quoteVersions.map(({ version }) => version))];
  for (const number of numbers.sort((a, b) => a - b)) {
    const versions = rows.quoteVersions.filter(({ version }) => version === number);
    const versionIds = new Set(versions.map(({ id }) => id));
    const options = rows.quoteOptions.filter((option) => versionIds.has(option.quoteVersionId));
    const optionIds = new Set(options.map(({ id }) => id));
    await db.quoteVersion.createMany({
      data: versions.map((version) => ({ ...version, state: "DRAFT", acceptedOptionId: null })),
    });
    await db.quoteOption.createMany({ data: options });
    await db.quoteLine.createMany({
      data: rows.quoteLines.filter((line) => optionIds.has(line.quoteOptionId)),
    });
    for (const { quoteId, version, state = "DRAFT", acceptedOptionId = null } of versions) {
      await db.quoteVersion.update({
        where: { quoteId_version: { quoteId, version } },
        data: { state, acceptedOptionId },
      });
    }
  }
}

/** Offcuts are part of what the ledger says of their lots, so they come after it. */
async function insertSteelAndEpoxy(db: Db, rows: ExampleRows): Promise<void> {
  await db.itemSection.createMany({ data: rows.sections });
  await db.offcut.createMany({ data: rows.offcuts });
  await db.epoxySheet.createMany({ data: rows.epoxySheets });
  await db.leak.createMany({ data: rows.leaks });
  await db.leakPatch.createMany({ data: rows.patches });
}

const instant = (at: Date | string): number => new Date(at).getTime();

async function moveCounters(db: Db, rows: ExampleRows): Promise<void> {
  const highest = {
    job: Math.max(0, ...rows.jobs.map((job) => job.number)),
    quote: Math.max(0, ...rows.quotes.map((quote) => quote.number)),
    run: Math.max(0, ...rows.runs.map((run) => run.number)),
    purchase: Math.max(0, ...rows.purchaseOrders.map((order) => order.number)),
    statement: rows.documents.filter(({ kind }) => kind === "STATEMENT").length,
    "credit-note": rows.documents.filter(({ kind }) => kind === "CREDIT_NOTE").length,
  };
  for (const [name, value] of Object.entries(highest)) {
    await db.counter.update({ where: { name }, data: { value } });
  }
}
