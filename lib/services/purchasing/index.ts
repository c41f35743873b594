/** Buying: what is due, lists for suppliers, what came of them, and how each item is ordered. */
export { purchaseListCsv, purchaseListFile } from "./documents";
export { changeLine, listBySupplier, listToBuy, noteOnList } from "./lists";
export type { ItemOrdering } from "./levels";
export {
  cancelOrder,
  closeOrder,
  markOrdered,
  pastOrders,
  receiveOrder,
  reopenCancelled,
  seePurchaseOrder,
  takeBackOrdered,
} from "./orders";
export { type ItemOrderingView, seeOrdering, setPolicy } from "./policies";
export {
  addSupplier,
  changeSupplier,
  seeSupplier,
  seeSuppliers,
  type SupplierLine,
} from "./suppliers";
export { buyingCount, type SupplierNeeds, whatToBuy } from "./what-to-buy";
