import type { Point } from "@/lib/field";
import type { InnerAnodeForm } from "./field-types";

/** A straight rod's middle line, m. */
export type Straight = { readonly from: Point; readonly to: Point };

/** Area of what hangs inside, facing the bath, m². */
export function innerArea(form: InnerAnodeForm): number {
  if (form.kind === "RODS") return 2 * Math.PI * form.radiusM * lengthOf(form.rods);
  // Both sides of the sheet, its edges left out: the thickness is the least of its measures.
  const { least, most } = form;
  const [x, y, z] = [most[0] - least[0], most[1] - least[1], most[2] - least[2]];
  return 2 * Math.max(x * y, y * z, x * z);
}

/** Of all together, m. */
export const lengthOf = (all: readonly Straight[]): number =>
  all.reduce(
    (sum, { from, to }) => sum + Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]),
    0,
  );
