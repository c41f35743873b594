import type { PartShape } from "@/lib/treatment";

/** A line drawing of each shape, our own, in a field of 64 by 48. */
export const SHAPE_PATHS: Readonly<Record<PartShape, string>> = {
  PLATE: "M6 30 L26 20 L58 26 L38 37 Z M6 30 V33 L38 40 L58 29 V26",
  BAR_GRID: "M8 12 H56 M8 24 H56 M8 36 H56 M14 8 V40 M26 8 V40 M38 8 V40 M50 8 V40",
  BOX: "M8 16 L26 8 L56 14 L38 23 Z M8 16 V32 L38 40 V23 M38 40 L56 30 V14 M14 18 L38 24",
  TUBE: "M14 14 a5 10 0 1 0 0.1 0 M14 14 H50 a5 10 0 0 1 0 20 H14 M14 19 a2.5 5 0 1 0 0.1 0",
  PAN: "M8 18 a24 7 0 1 0 48 0 a24 7 0 1 0 -48 0 M8 18 L16 36 a16 4 0 0 0 32 0 L56 18",
  RING: "M8 24 a24 14 0 1 0 48 0 a24 14 0 1 0 -48 0 M20 24 a12 6 0 1 0 24 0 a12 6 0 1 0 -24 0",
  SOLID: "M10 18 L30 10 L54 16 L34 25 Z M10 18 V32 L34 40 V25 M34 40 L54 31 V16",
};

export function ShapeGlyph({ shape }: { readonly shape: PartShape }) {
  return (
    <svg viewBox="0 0 64 48" className="h-12 w-16 shrink-0" aria-hidden="true">
      <path
        d={SHAPE_PATHS[shape]}
        className="fill-none stroke-magnetite"
        strokeWidth="2"
        strokeLinejoin="round"
        strokeLinecap="round"
      />
    </svg>
  );
}
