/** Why a line stands in the ledger. In is positive, out is negative; a count may be either. */
export const ENTRY_KINDS = ["RECEIVED", "USED", "COUNTED", "SPOILED", "RETURNED"] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** How each kind is said. */
export const ENTRY_KIND_WORDS: Readonly<Record<EntryKind, string>> = {
  RECEIVED: "delivered",
  USED: "used",
  COUNTED: "counted",
  SPOILED: "spoiled",
  RETURNED: "brought back",
};

/** What a consumable or a protection is, more exactly; the ledger and the costs of a job make no difference. */
export const ITEM_CATEGORIES = {
  CONSUMABLE: ["WOOL", "BRUSH", "GLOVES", "LABEL", "WIRE"],
  PROTECTION: ["OIL", "WAX", "PAPER"],
} as const;
export type ItemCategory = (typeof ITEM_CATEGORIES)[keyof typeof ITEM_CATEGORIES][number];

/** How each is said. */
export const ITEM_CATEGORY_WORDS: Readonly<Record<ItemCategory, string>> = {
  WOOL: "steel wool and pads",
  BRUSH: "brushes",
  GLOVES: "gloves",
  LABEL: "labels and tags",
  WIRE: "wire and hooks",
  OIL: "oil",
  WAX: "wax",
  PAPER: "rust-preventing paper",
};

/** What an item is counted in. */
export const STOCK_UNITS = ["GRAM", "MILLILITRE", "MILLIMETRE", "EACH"] as const;
export type StockUnit = (typeof STOCK_UNITS)[number];

/** The sign written beside a quantity. */
export const UNIT_SIGNS: Readonly<Record<StockUnit, string>> = {
  GRAM: "g",
  MILLILITRE: "mL",
  MILLIMETRE: "mm",
  EACH: "pieces",
};
