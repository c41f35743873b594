/**
 * Documents: data in, bytes out. Lays out and calculates nothing; dates and times come as text, already written in the
 * shop's zone and customs.
 */
export { billPdf } from "./bill-pdf";
export type * from "./bill-types";
export { type CsvCell, csv } from "./csv";
export { type Calendar, type CalendarEvent, type EventTime, icalendar } from "./icalendar";
export { partTagPdf } from "./part-tag-pdf";
export { planSheetPdf } from "./plan-sheet-pdf";
export { type PurchaseListDocument, purchaseListPdf } from "./purchase-list-pdf";
export { quotePdf } from "./quote-pdf";
export type {
  PartTag,
  PartTags,
  QuoteDocument,
  QuoteDocumentAnswer,
  QuoteDocumentLine,
  QuoteDocumentOption,
  QuoteDocumentPart,
  ShopHead,
} from "./types";
export type * from "./plan-sheet-types";
