import { STL_LIMITS, STL_UNITS } from "@/lib/field";
import { formatWhen } from "@/lib/server";
import { type DrawnMeasures, drawnMeasures, fromDrawing, type partById } from "@/lib/services";
import { formatMeasure } from "@/lib/units";
import { Confirm, Facts, Form, Section, Submit } from "@/app/ui";
import { massWords, sizeWords, type UnitSystem } from "../../measures";
import { removeOwnShapeAction, takeOverMeasuresAction } from "./field-actions";
import { ShapeForm } from "./shape-form";

type Part = Awaited<ReturnType<typeof partById>>;
type Props = {
  readonly part: Part;
  readonly shop: {
    readonly timeZone: string;
    readonly locale: string;
    readonly unitSystem: UnitSystem;
  };
  /** Bring or remove a shape, and take over what it measures. */
  readonly mayAdd: boolean;
  readonly changeable: boolean;
};

const UNIT_NAMES = { mm: "millimetres", cm: "centimetres", m: "metres", in: "inches" } as const;
const UNITS = STL_UNITS.map((value) => ({ value, label: UNIT_NAMES[value] }));

/** The part as it was drawn or scanned, in place of the catalogue's plain shape. */
export function OwnShape({ part, shop, mayAdd, changeable }: Props) {
  const { mesh } = part;
  if (!mesh && !mayAdd) return null;
  return (
    <Section title="Its own shape" id="own-shape">
      <div className="space-y-4">
        {mesh ? <ShapeRead mesh={mesh} part={part} shop={shop} /> : null}
        {mesh && mayAdd && changeable ? <TakeOver mesh={mesh} part={part} shop={shop} /> : null}
        {mayAdd ? (
          <details open={false}>
            <summary className="min-h-11 py-2 font-medium">
              {mesh ? "Bring another file" : "Bring a drawing or a scan of it"}
            </summary>
            <ShapeForm partId={part.id} units={UNITS} mostBytes={STL_LIMITS.bytes} />
          </details>
        ) : null}
        {mesh && mayAdd ? (
          <Confirm
            label="Remove the shape"
            question="The field then takes the plain shape again. The file must be brought anew."
            action={removeOwnShapeAction}
            confirm="Remove it"
          >
            <input type="hidden" name="id" value={part.id} />
          </Confirm>
        ) : null}
      </div>
    </Section>
  );
}

type ShapeProps = Pick<Props, "part" | "shop"> & { readonly mesh: NonNullable<Part["mesh"]> };

function ShapeRead({ mesh, part, shop }: ShapeProps) {
  const drawn = drawnMeasures(mesh, part.material);
  return (
    <>
      <Facts
        facts={[
          { label: "File", value: `${mesh.fileName}, drawn in ${mesh.unit}` },
          { label: "Triangles", value: mesh.triangles },
          { label: "Box", value: boxWords(drawn, shop.unitSystem) },
          { label: "Area, all of it", value: formatMeasure("area", drawn.areaM2, shop.unitSystem) },
          { label: "Mass, if all metal", value: massWords(drawn.massG, shop.unitSystem) },
          { label: "Brought", value: `${mesh.addedBy.name}, ${formatWhen(mesh.addedAt, shop)}` },
        ]}
      />
      <p>
        <span className="text-zinc">Mended: </span>
        {mesh.mended.length > 0 ? `${mesh.mended.join("; ")}.` : "nothing, it was whole."}
      </p>
    </>
  );
}

const boxWords = ({ lengthMm, widthMm, heightMm }: DrawnMeasures, units: UnitSystem): string =>
  sizeWords([lengthMm, widthMm, heightMm], units);

/** The drawing's measures beside the typed ones, to be taken over by one press. */
function TakeOver({ mesh, part, shop }: ShapeProps) {
  const units = shop.unitSystem;
  const drawn = drawnMeasures(mesh, part.material);
  const { area } = fromDrawing(part);
  const sameBox =
    part.lengthMm === drawn.lengthMm &&
    part.widthMm === drawn.widthMm &&
    part.heightMm === drawn.heightMm;
  if (area && sameBox && part.massG !== null) {
    return <p>Size and area of this part are those of its own drawing.</p>;
  }
  const typedArea =
    part.areaOverrideM2 === null
      ? "by its plain shape"
      : formatMeasure("area", part.areaOverrideM2, units);
  const mass =
    part.massG === null
      ? `, and its mass of ${massWords(drawn.massG, units)}, since nobody weighed it`
      : "";
  return (
    <div className="plate space-y-3 p-4">
      <p>
        Typed: {sizeWords([part.lengthMm, part.widthMm, part.heightMm], units)}, area {typedArea}.
        The drawing has {boxWords(drawn, units)} and {formatMeasure("area", drawn.areaM2, units)}.
      </p>
      <Form action={takeOverMeasuresAction} label="Measures of the drawing">
        <input type="hidden" name="id" value={part.id} />
        <Submit kind="plain">Take over size and area{mass}</Submit>
      </Form>
      <p className="text-sm text-zinc">
        It is judged anew and must be planned anew. Changing the part undoes it.
      </p>
    </div>
  );
}
