/** Quotes: drafted from plans, sent by a private link, answered by the customer. */
export { acceptQuote, askAboutQuote, declineQuote } from "./answer";
export { type PdfFile, quotePdfByLink, quotePdfForShop } from "./document";
export type { VersionDifference } from "./difference";
export { draftQuote } from "./draft";
export { estimateOf, type StoredEstimate } from "./estimate";
export { type JobQuotes, jobQuotes, type ShownQuote, type ShownVersion } from "./job-quotes";
export { renewLink, revokeLink } from "./link";
export {
  type CustomerOffer,
  type OfferedOption,
  type CustomerQuote,
  openQuote,
  type PartProgress,
  PROGRESS_STEPS,
} from "./open";
export type { QuoteTerms } from "./price-options";
export type { PartPromise } from "./promise";
export { sendQuote, withdrawQuote } from "./send";
export { LONGEST_OPTION_NAME, type OptionWish, usualName } from "./wishes";
