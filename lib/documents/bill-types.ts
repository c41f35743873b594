import type { ShopHead } from "./types";

/** One line of a statement or credit note. Whole minor units; a reduction is negative. */
export type BillDocumentLine = {
  readonly label: string;
  readonly detail: string;
  readonly netMinor: number;
  readonly taxMinor: number;
};

/** Everything on a printed statement or credit note. Dates come as text in the shop's zone and customs. */
export type BillDocument = {
  readonly kind: "statement" | "credit note";
  readonly number: number;
  readonly jobNumber: number;
  /** the statement that a credit note is of */
  readonly of: { readonly number: number; readonly date: string } | null;
  readonly shop: ShopHead;
  readonly shopTaxNumber: string;
  readonly customer: { readonly name: string; readonly address: string };
  /** "25 November 2026" */
  readonly date: string;
  readonly dueOn: string | null;
  readonly currency: string;
  /** BCP 47: how amounts are written */
  readonly locale: string;
  readonly lines: readonly BillDocumentLine[];
  readonly taxes: readonly {
    readonly name: string;
    readonly percent: number;
    readonly baseMinor: number;
    readonly taxMinor: number;
  }[];
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
  /** what had been paid when it was written; below 0 went back */
  readonly paid: readonly { readonly words: string; readonly amountMinor: number }[];
  readonly paidMinor: number;
  /** why it is credited */
  readonly reason: string;
  /** when and how to pay */
  readonly terms: string;
  /** for the file's properties; the printed date is `date` */
  readonly madeAt: Date;
};
