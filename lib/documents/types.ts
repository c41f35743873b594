/** Who writes the paper. Address lines are split at line ends. */
export type ShopHead = {
  readonly name: string;
  readonly address: string;
  readonly email: string;
  readonly phone: string;
};

/** What one part will have done to it, as the customer reads it. */
export type QuoteDocumentPart = {
  readonly mark: string; // "A"
  readonly description: string;
  readonly quantity: number;
  /** sentences: what will be done */
  readonly work: string;
  /** "3 to 6 h in the bath"; null where none is estimated */
  readonly hours: string | null;
  /** conditions and cautions for this part */
  readonly cautions: readonly string[];
};

/** One line of the price. Whole minor units; a discount is negative. */
export type QuoteDocumentLine = {
  readonly label: string;
  readonly detail: string;
  /** with its tax where prices include it */
  readonly amountMinor: number;
};

/** One tax of a document, as it is printed. */
export type DocumentTax = {
  readonly name: string;
  readonly percent: number;
  readonly baseMinor: number;
  readonly taxMinor: number;
};

/** One way of doing the job, with its price. */
export type QuoteDocumentOption = {
  readonly name: string;
  readonly rush: boolean;
  readonly parts: readonly QuoteDocumentPart[];
  readonly lines: readonly QuoteDocumentLine[];
  /** whether amounts have their tax in them */
  readonly pricesIncludeTax: boolean;
  readonly netMinor: number;
  readonly taxes: readonly DocumentTax[];
  readonly totalMinor: number;
  /** the total if the hours were the shortest and the longest expected */
  readonly lowMinor: number;
  readonly highMinor: number;
  /** asked before work begins; 0: none */
  readonly depositMinor: number;
};

/** What the customer answered, and when, as text. */
export type QuoteDocumentAnswer = {
  readonly name: string;
  /** "7 January 2030, 10:05" */
  readonly when: string;
  /** of several; null where there was one */
  readonly option: string | null;
};

/** Everything on a printed quote. Dates come as text in the shop's zone and customs. */
export type QuoteDocument = {
  readonly shop: ShopHead;
  readonly customer: { readonly name: string; readonly address: string };
  readonly quoteNumber: number;
  readonly version: number;
  readonly jobNumber: number;
  /** "25 November 2026" */
  readonly date: string;
  readonly validUntil: string;
  readonly promisedFor: string | null;
  readonly currency: string;
  /** BCP 47: how amounts are written */
  readonly locale: string;
  readonly message: string;
  /** one or more, the leading one first */
  readonly options: readonly QuoteDocumentOption[];
  /** null until it is accepted */
  readonly accepted: QuoteDocumentAnswer | null;
  readonly terms: string;
  /** cautions for the whole job */
  readonly cautions: readonly string[];
  /** private link at which the customer answers; null where there is none */
  readonly acceptLink: string | null;
  /** for the file's properties; the printed date is `date` */
  readonly madeAt: Date;
};

/** A tag that stays with one part. */
export type PartTag = {
  readonly jobNumber: number;
  readonly mark: string;
  readonly description: string;
  readonly quantity: number;
  readonly customerName: string;
  /** "May go in, with conditions" */
  readonly verdict: string | null;
  readonly conditions: readonly string[];
  /** "Fri 27 Nov" */
  readonly promisedFor: string | null;
};

/** A sheet of tags, as many as fit on a page. */
export type PartTags = {
  readonly shopName: string;
  readonly tags: readonly PartTag[];
  readonly madeAt: Date;
};
