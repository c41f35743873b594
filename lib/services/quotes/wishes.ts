/** Which options a quote is to offer side by side, before they are priced. Pure. */
import type { QuotablePart } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { Goal } from "@/lib/treatment";

/** Options that one version offers at most: more do not stand side by side on paper. */
export const MOST_OPTIONS = 4;

/** Longest name of an option, characters. */
export const LONGEST_OPTION_NAME = 60;

/** One way of doing the job, as the shop asks for its price. */
export type OptionWish = {
  /** as the customer reads it; different from the other options' names */
  readonly name: string;
  /** what is done to every part; null: as each part is planned */
  readonly goal: Goal | null;
  /** whether the job goes before others, at the rush rate */
  readonly rush: boolean;
  /** 0 to 100; what the job's size earns where left out */
  readonly discountPercent?: number | undefined;
};

/** What a name is where nobody chose one. Protection against flash rust is part of every treatment, so each says so. */
export const USUAL_NAMES = {
  AS_PLANNED: "As planned",
  RUST_ONLY: "Rust only, protected",
  STRIP_TO_METAL: "Strip and protect",
  RUSH: "Rush",
} as const;

/** @example usualName({ goal: "STRIP_TO_METAL", rush: true }) // "Strip and protect, rush" */
export function usualName({ goal, rush }: Pick<OptionWish, "goal" | "rush">): string {
  if (goal === null) return rush ? USUAL_NAMES.RUSH : USUAL_NAMES.AS_PLANNED;
  return rush ? `${USUAL_NAMES[goal]}, rush` : USUAL_NAMES[goal];
}

/**
 * The options that usually make sense for these parts: as planned, the other thing that could be done to them, and
 * rush. Stripping is only another thing where something beside rust is on a part.
 *
 * @param parts those that would be priced, one or more
 * @param rushPercent what rush adds, %; at 0 there is nothing to choose
 * @returns one to three, as planned first
 * @example usualWishes([{ goal: "RUST_ONLY", coatings: ["PAINT"] }], 25).map(({ name }) => name)
 *   // ["As planned", "Strip and protect", "Rush"]
 */
export function usualWishes(
  parts: readonly Pick<QuotablePart, "goal" | "coatings">[],
  rushPercent: number,
): readonly OptionWish[] {
  const goal = otherGoal(parts);
  return [
    { name: USUAL_NAMES.AS_PLANNED, goal: null, rush: false },
    ...(goal ? [{ name: USUAL_NAMES[goal], goal, rush: false }] : []),
    ...(rushPercent > 0 ? [{ name: USUAL_NAMES.RUSH, goal: null, rush: true }] : []),
  ];
}

function otherGoal(parts: readonly Pick<QuotablePart, "goal" | "coatings">[]): Goal | null {
  if (parts.every(({ goal }) => goal === "STRIP_TO_METAL")) return "RUST_ONLY";
  const coated = parts.some(({ goal, coatings }) => goal === "RUST_ONLY" && coatings.length > 0);
  return coated ? "STRIP_TO_METAL" : null;
}

/** @throws Refusal invalid naming the option, what is wrong with it and what was expected */
export function checkWishes(wishes: readonly OptionWish[]): void {
  if (wishes.length < 1 || wishes.length > MOST_OPTIONS) {
    throw refusal(`A quote offers 1 to ${MOST_OPTIONS} options, got ${wishes.length}.`);
  }
  const names = new Set<string>();
  wishes.forEach(({ name, discountPercent = 0 }, index) => {
    const known = name.trim().toLowerCase();
    if (known === "") throw refusal(`Option ${index + 1} has no name: give it one.`);
    if (name.length > LONGEST_OPTION_NAME) {
      throw refusal(
        `The name of option ${index + 1} has ${name.length} characters: expected at most ${LONGEST_OPTION_NAME}.`,
      );
    }
    if (names.has(known)) {
      throw refusal(`Two options are called “${name.trim()}”: give each a name of its own.`);
    }
    names.add(known);
    if (!(discountPercent >= 0 && discountPercent <= 100)) {
      throw new Refusal("invalid", `The discount of “${name.trim()}” is not from 0 to 100 %.`, {
        discountPercent: "A discount is from 0 to 100 %.",
      });
    }
  });
}

const refusal = (message: string): Refusal => new Refusal("invalid", message, { options: message });
