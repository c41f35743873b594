import type { FieldLook, StreamLines } from "@/lib/field";
import type { FieldSubject, InnerAnodeForm } from "@/lib/treatment";
import type { PartPlace } from "./hung";
import type { SurfaceShape } from "./surface-shape";

/** What the page asks a worker. */
export type FieldQuestion = {
  /** answers carry it back */
  readonly number: number;
  readonly subject: FieldSubject;
  readonly place: PartPlace;
  /** hung inside the part */
  readonly form: InnerAnodeForm | null;
  /** of that from where it was found best */
  readonly aside: PartPlace;
  /** while something is dragged: fewer cells, no overvoltages */
  readonly quick: boolean;
};

/** A field with what is drawn of it. */
export type FieldPicture = {
  readonly look: FieldLook;
  readonly shape: SurfaceShape;
  readonly lines: StreamLines;
  /** Time that it took to work out, ms. */
  readonly tookMs: number;
};

/** What it answers: the field, or in words why there is none; and once more, when known, how exact it is. */
export type FieldAnswer =
  | { readonly kind: "look"; readonly number: number; readonly picture: FieldPicture }
  | {
      readonly kind: "length";
      readonly number: number;
      readonly value: number;
      readonly error: number;
    }
  | { readonly kind: "none"; readonly number: number; readonly why: string };
