/** Being paid: final statements, credit notes, payments, and who owes what. */
export { type Extra } from "./accepted";
export { openBalances, openBalancesFile, type OpenBalance } from "./balances";
export { creditStatement, type NewCredit } from "./credit";
export { billPdfFor } from "./document";
export { issueStatement, type NewStatement } from "./issue";
export { correctPayment, type EnteredPayment, PAYMENT_METHODS, recordPayment } from "./payments";
export {
  jobMoney,
  type JobMoney,
  jobOwes,
  type JobOwes,
  type ShownDocument,
  type ShownPayment,
} from "./see-money";
