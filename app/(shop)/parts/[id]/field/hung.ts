import type { AnodeForm, Bathful, Point } from "@/lib/field";
import {
  fieldBath,
  type FieldFindings,
  type FieldSubject,
  type InnerAnodeForm,
  type InnerAnodeFound,
  innerRod,
} from "@/lib/treatment";

/** Of the part's middle from the tank's, mm. */
export type PartPlace = { readonly alongMm: number; readonly acrossMm: number };

export const MIDDLE: PartPlace = { alongMm: 0, acrossMm: 0 };

/** Something that can be hung inside the part. */
export type Hung = {
  readonly form: InnerAnodeForm;
  /** Measures in braces. */
  readonly words: string;
  /** What the plan found of it; null where it was not tried there. */
  readonly found: InnerAnodeFound | null;
};

/** Between an inner rod and the part, mm: common practice keeps a finger's width and more. */
export const ROD_CLEARANCE_MM = 30;

/** What can be hung inside: what the plan found best, else a plain rod where one has room. */
export function hangable(subject: FieldSubject, findings: FieldFindings | null): readonly Hung[] {
  if (findings) return findings.innerAnodes.map((found) => ({ ...found, found }));
  const rod = innerRod(subject, ROD_CLEARANCE_MM);
  if (rod?.kind !== "ROD") return [];
  const { from, to, radiusM } = rod;
  return [
    {
      form: { kind: "RODS", rods: [{ from, to }], radiusM },
      words: `A rod of {${Math.round(2000 * radiusM)} mm} upright in the middle`,
      found: null,
    },
  ];
}

/**
 * The bath with the part at a place, and what hangs inside it.
 *
 * @param aside of what hangs inside from where it was found best
 * @throws RangeError as `fieldBath`
 */
export function bathWith(
  subject: FieldSubject,
  place: PartPlace,
  form: InnerAnodeForm | null,
  aside: PartPlace = MIDDLE,
): Bathful {
  const bath = fieldBath(subject, place);
  if (!form) return bath;
  // It hangs in the part, and so goes where that goes.
  const by: Point = [
    (place.alongMm + aside.alongMm) / 1000,
    (place.acrossMm + aside.acrossMm) / 1000,
    0,
  ];
  const inner = formsOf(form, by).map((one, index) => ({
    id: `inner-${index + 1}`,
    name: "inner anode",
    form: one,
  }));
  return { ...bath, anodes: [...bath.anodes, ...inner] };
}

function formsOf(form: InnerAnodeForm, by: Point): readonly AnodeForm[] {
  const moved = (point: Point): Point => [point[0] + by[0], point[1] + by[1], point[2] + by[2]];
  if (form.kind === "SHEET") {
    return [{ kind: "PLATE", least: moved(form.least), most: moved(form.most) }];
  }
  return form.rods.map(({ from, to }) => ({
    kind: "ROD",
    from: moved(from),
    to: moved(to),
    radiusM: form.radiusM,
  }));
}
