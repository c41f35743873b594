/** How a payment's way is said on screens. */
export const METHOD_LABELS = {
  CASH: "cash",
  CARD: "card",
  TRANSFER: "bank transfer",
  CHEQUE: "cheque",
  OTHER: "otherwise",
} as const;

export const METHOD_OPTIONS = Object.entries(METHOD_LABELS).map(([value, label]) => ({
  value,
  label,
}));
