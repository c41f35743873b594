import { PART_SHAPE_HINTS, PART_SHAPE_NAMES, PART_SHAPES } from "@/lib/treatment";
import { MeasureField, UnitsHint } from "@/app/ui";
import type { PartValues } from "./part-values";
import { ShapeDrawing } from "./shape-drawing";
import { ShapeGlyph } from "./shape-glyph";

type Props = { readonly part?: PartValues };

const HOLLOW = PART_SHAPES.filter((shape) => PART_SHAPE_HINTS[shape].wall !== null);

/** The wall is asked for where the shape has one; each shape says what its measures are. Both by the style sheet alone. */
const STYLES = [
  ".where-there-is-a-wall, .shape-hint { display: none }",
  HOLLOW.map(
    (shape) => `form:has([name="shape"][value="${shape}"]:checked) .where-there-is-a-wall`,
  ).join(", ") + " { display: block }",
  ...PART_SHAPES.map(
    (shape) =>
      `form:has([name="shape"][value="${shape}"]:checked) .hint-${shape} { display: block }`,
  ),
].join("\n");

export function ShapeFields({ part }: Props) {
  return (
    <fieldset className="space-y-3">
      <style>{STYLES}</style>
      <legend className="font-medium">Shape and size</legend>
      <div className="grid grid-cols-2 gap-2 sm:grid-cols-3">
        {PART_SHAPES.map((shape) => (
          <label
            key={shape}
            className="flex min-h-14 items-center gap-2 rounded-[var(--radius-plate)] border-2 border-rim p-2 has-checked:border-bath has-checked:bg-bath-wash"
          >
            <input
              type="radio"
              name="shape"
              value={shape}
              defaultChecked={(part?.shape ?? "PLATE") === shape}
              className="size-5 shrink-0 accent-bath"
            />
            <ShapeGlyph shape={shape} />
            <span className="min-w-0 text-sm">{PART_SHAPE_NAMES[shape]}</span>
          </label>
        ))}
      </div>
      {PART_SHAPES.map((shape) => (
        <div key={shape} className={`shape-hint hint-${shape} text-sm text-zinc`}>
          <ShapeDrawing shape={shape} />
          <p>
            {PART_SHAPE_HINTS[shape].measures}
            {PART_SHAPE_HINTS[shape].wall ? `; ${PART_SHAPE_HINTS[shape].wall}` : ""}
          </p>
        </div>
      ))}
      <UnitsHint kind="length" />
      <div className="grid grid-cols-2 gap-4 sm:grid-cols-4">
        <MeasureField name="length" label="Length" kind="length" value={part?.lengthMm} required />
        <MeasureField name="width" label="Width" kind="length" value={part?.widthMm} required />
        <MeasureField name="height" label="Height" kind="length" value={part?.heightMm} required />
        <MeasureField
          name="wall"
          label="Wall, bar or rim"
          kind="thickness"
          value={part?.wallMm}
          className="where-there-is-a-wall"
        />
      </div>
      <details>
        <summary className="min-h-11 py-2">The area was measured</summary>
        <MeasureField
          name="areaOverrideM2"
          label="Wetted area of one piece, inside and out"
          kind="area"
          value={part?.areaOverrideM2}
        />
      </details>
    </fieldset>
  );
}
