import { type Actor, requirePermission } from "@/lib/access";
import { type DocumentRow, findBilledJob, findDocument, reading, type ShopRow } from "@/lib/data";
import { type BillDocument, billPdf } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { calendarDay, dayText } from "../calendar";
import { requireShop } from "../open-shop";

export type MoneyFile = { readonly name: string; readonly bytes: Uint8Array<ArrayBuffer> };

/** How a payment is named on paper. */
const METHOD_WORDS: Readonly<Record<DocumentRow["paid"][number]["method"], string>> = {
  CASH: "cash",
  CARD: "card",
  TRANSFER: "bank transfer",
  CHEQUE: "cheque",
  OTHER: "otherwise",
};

/** A statement or credit note on paper, as it was written. @throws Refusal not-allowed | not-found */
export async function billPdfFor(actor: Actor, documentId: string): Promise<MoneyFile> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const document = await findDocument(db, documentId);
    if (!document) throw new Refusal("not-found", "There is no such document.");
    const [job, shop, refersTo] = await Promise.all([
      findBilledJob(db, document.jobId),
      requireShop(db),
      document.refersToId ? findDocument(db, document.refersToId) : null,
    ]);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    const bytes = await billPdf(printed(document, job.number, refersTo, shop));
    const kind = document.kind === "STATEMENT" ? "statement" : "credit-note";
    return { name: `${kind}-${document.number}.pdf`, bytes };
  });
}

function printed(
  document: DocumentRow,
  jobNumber: number,
  refersTo: DocumentRow | null,
  { locale, timeZone }: ShopRow,
): BillDocument {
  const day = (at: Date): string => dayText(calendarDay(at, timeZone), locale);
  return {
    kind: document.kind === "STATEMENT" ? "statement" : "credit note",
    number: document.number,
    jobNumber,
    of: refersTo && { number: refersTo.number, date: day(refersTo.issuedAt) },
    shop: {
      name: document.shopName,
      address: document.shopAddress,
      email: document.shopEmail,
      phone: document.shopPhone,
    },
    shopTaxNumber: document.shopTaxNumber,
    customer: { name: document.customerName, address: document.customerAddress },
    date: day(document.issuedAt),
    dueOn: document.dueOn && dayText(document.dueOn, locale),
    currency: document.currency,
    locale,
    lines: document.lines.map(({ label, detail, netMinor, taxMinor }) => ({
      label,
      detail,
      netMinor,
      taxMinor,
    })),
    taxes: document.taxes,
    netMinor: document.netMinor,
    taxMinor: document.taxMinor,
    totalMinor: document.totalMinor,
    paid: document.paid.map(({ on, method, amountMinor }) => ({
      words: `${amountMinor < 0 ? "Paid back" : "Paid"} ${dayText(new Date(on), locale)}, ${METHOD_WORDS[method]}`,
      amountMinor,
    })),
    paidMinor: document.paidMinor,
    reason: document.reason,
    terms: document.terms,
    madeAt: document.issuedAt,
  };
}
