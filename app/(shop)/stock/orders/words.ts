import { majorUnits, minorDigits, money } from "@/lib/money";
import type { OrderReason } from "@/lib/stock";
import type { Tone } from "@/app/ui";

export const ORDER_STATE_WORDS = {
  DRAFT: "draft",
  ORDERED: "on its way",
  RECEIVED: "done",
  CANCELLED: "cancelled",
} as const;
type OrderState = keyof typeof ORDER_STATE_WORDS;

export const ORDER_STATE_TONE: Readonly<Record<OrderState, Tone>> = {
  DRAFT: "brass",
  ORDERED: "bath",
  RECEIVED: "zinc",
  CANCELLED: "zinc",
};

export const REASON_TONE: Readonly<Record<OrderReason, Tone>> = {
  OUT: "oxide",
  LOW: "brass",
  EXPIRING: "oxide",
};

/** @example supplierWords("") // "supplier not named" */
export const supplierWords = (name: string): string => name || "supplier not named";

/** @example countWords(1, "item") // "1 item" */
export const countWords = (count: number, one: string): string =>
  `${count} ${one}${count === 1 ? "" : "s"}`;

/** An amount as a field takes it; empty for none. @example typedMoney(1250, "EUR") // "12.50" */
export function typedMoney(minor: number | null, currency: string): string {
  return minor === null ? "" : majorUnits(money(minor, currency)).toFixed(minorDigits(currency));
}
