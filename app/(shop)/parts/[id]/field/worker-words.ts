import type { FieldLook } from "@/lib/field";
import type { FieldSubject } from "@/lib/treatment";

/** What the page asks the worker. */
export type FieldQuestion = {
  /** answers carry it back */
  readonly number: number;
  readonly subject: FieldSubject;
  readonly place: { readonly alongMm: number; readonly acrossMm: number };
  readonly rod: boolean;
  /** while something is dragged: fewer cells, no overvoltages */
  readonly quick: boolean;
};

/** What it answers: the field, or in words why there is none; and once more, when known, how exact it is. */
export type FieldAnswer =
  | { readonly kind: "look"; readonly number: number; readonly look: FieldLook }
  | {
      readonly kind: "length";
      readonly number: number;
      readonly value: number;
      readonly error: number;
    }
  | { readonly kind: "none"; readonly number: number; readonly why: string };

/** Between an inner rod and the part, mm: common practice keeps a finger's width and more. */
export const ROD_CLEARANCE_MM = 30;
