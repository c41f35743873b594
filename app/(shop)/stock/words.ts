import type { ItemKind } from "@/lib/services";
import { SALT_GRADE_FACTS, SALT_GRADES } from "@/lib/electrolysis";
import {
  ITEM_CATEGORIES,
  ITEM_CATEGORY_WORDS,
  STOCK_UNITS,
  type StockState,
  type StockUnit,
} from "@/lib/stock";
import type { UnitSystem } from "@/lib/units";
import type { Tone } from "@/app/ui";

/** What kinds of thing are kept. */
export const ITEM_KIND_WORDS: Readonly<Record<ItemKind, string>> = {
  SALT: "soda",
  ANODE_STEEL: "anode steel",
  EPOXY: "epoxy",
  CONSUMABLE: "consumable",
  PROTECTION: "protection",
};

/** What an item is, as exactly as the shop said it. */
export function itemWords({
  kind,
  category,
}: {
  readonly kind: ItemKind;
  readonly category: string;
}): string {
  const known = Object.entries(ITEM_CATEGORY_WORDS).find(([code]) => code === category);
  return known?.[1] ?? ITEM_KIND_WORDS[kind];
}

const categoryOptions = (kind: keyof typeof ITEM_CATEGORIES) =>
  ITEM_CATEGORIES[kind].map((category) => ({
    value: `${kind}/${category}`,
    label: `${ITEM_KIND_WORDS[kind]}: ${ITEM_CATEGORY_WORDS[category]}`,
  }));

/** Every kind, and what is more exact under it: "CONSUMABLE/WOOL". */
export const KIND_OPTIONS = Object.entries(ITEM_KIND_WORDS).flatMap(([value, label]) => [
  { value, label },
  ...(value === "CONSUMABLE" || value === "PROTECTION" ? categoryOptions(value) : []),
]);

/** As the value of one of these options. @example kindChoice({ kind: "CONSUMABLE", category: "WOOL" }) // "CONSUMABLE/WOOL" */
export const kindChoice = ({
  kind,
  category,
}: {
  readonly kind: string;
  readonly category: string;
}): string => (category === "" ? kind : `${kind}/${category}`);

const UNIT_WORDS: Readonly<Record<UnitSystem, Readonly<Record<StockUnit, string>>>> = {
  METRIC: {
    GRAM: "grams",
    MILLILITRE: "millilitres",
    MILLIMETRE: "millimetres of length",
    EACH: "pieces",
  },
  US: {
    GRAM: "ounces of weight",
    MILLILITRE: "fluid ounces",
    MILLIMETRE: "inches of length",
    EACH: "pieces",
  },
};

export const unitOptions = (units: UnitSystem) =>
  STOCK_UNITS.map((value) => ({ value, label: UNIT_WORDS[units][value] }));

export const MASS_OF_ONE_HINT: Readonly<Record<UnitSystem, string>> = {
  METRIC: "For anode steel: grams in one millimetre or piece of it.",
  US: "For anode steel: pounds in a foot of it, or ounces in a piece.",
};

export const SALT_OPTIONS = [
  { value: "", label: "not soda" },
  ...SALT_GRADES.map((value) => ({ value, label: SALT_GRADE_FACTS[value].name })),
];

export const STATE_TONE: Readonly<Record<StockState, Tone>> = {
  OUT: "oxide",
  LOW: "brass",
  ENOUGH: "zinc",
};

/** @example expiryWords(-3) // "expired 3 days ago" */
export function expiryWords(days: number): string {
  if (days === 0) return "last good day is today";
  const count = `${Math.abs(days)} ${Math.abs(days) === 1 ? "day" : "days"}`;
  return days < 0 ? `expired ${count} ago` : `expires in ${count}`;
}

/** What to know of stock that was past its day when it was taken. @example expiredWords(1) // "Part of it expired 1 day ago: …" */
export const expiredWords = (days: number): string =>
  `Part of it ${expiryWords(-days)}: look at it before you use it.`;
