import type { Coating, Hazard, Material } from "./codes";
import type { PartDescription } from "./part";

/** What a rule says of a part it speaks of; the firmest of all findings is the verdict. */
export const FINDING_OUTCOMES = ["CAUTION", "CONDITION", "REFER", "REFUSE"] as const;
export type FindingOutcome = (typeof FINDING_OUTCOMES)[number];

export type Rule = {
  readonly id: string;
  readonly title: string;
  readonly when: (part: PartDescription) => boolean;
  readonly outcome: FindingOutcome;
  /** Nobody in the shop may overrule it. */
  readonly absolute?: true;
  readonly reason: string;
  readonly source: string;
  readonly caution?: string;
  /** What must be done for the part to go in, or what to do instead. */
  readonly whatToDo: string;
};

export const PRACTICE = "common practice, no source";
export const LOCAL =
  "Local codes and licensed practice decide; this page is a caution, not a permission.";

export const made =
  (...materials: readonly Material[]) =>
  (part: PartDescription): boolean =>
    materials.includes(part.material);
export const has =
  (hazard: Hazard) =>
  (part: PartDescription): boolean =>
    part.hazards.includes(hazard);
export const coated =
  (coating: Coating) =>
  (part: PartDescription): boolean =>
    part.coatings.includes(coating);
