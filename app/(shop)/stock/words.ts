import type { ItemKind } from "@/lib/services";
import { SALT_GRADE_FACTS, SALT_GRADES } from "@/lib/electrolysis";
import { STOCK_UNITS, type StockState, type StockUnit } from "@/lib/stock";
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

export const KIND_OPTIONS = Object.entries(ITEM_KIND_WORDS).map(([value, label]) => ({
  value,
  label,
}));

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
