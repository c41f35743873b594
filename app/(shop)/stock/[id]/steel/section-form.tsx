import type { BarsPage } from "@/lib/services";
import { SECTION_SHAPES, SECTION_WORDS } from "@/lib/stock";
import { Form, MeasureField, SelectField, Submit } from "@/app/ui";
import { describeBarsAction } from "./actions";

type Props = { readonly itemId: string; readonly section: BarsPage["section"] };

/** What the bars of an item measure, and how they are sawn. */
export function SectionForm({ itemId, section }: Props) {
  return (
    <Form action={describeBarsAction} label="Describe the bars">
      <input type="hidden" name="itemId" value={itemId} />
      <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
        <SelectField
          name="shape"
          label="Section"
          options={SECTION_SHAPES.map((shape) => ({ value: shape, label: SECTION_WORDS[shape] }))}
          defaultValue={section?.shape}
          required
        />
        <MeasureField
          name="widthMm"
          label="Width, diameter or side"
          kind="thickness"
          value={section?.widthMm}
          required
        />
        <MeasureField
          name="thicknessMm"
          label="Thickness"
          kind="thickness"
          value={section?.thicknessMm}
          hint="Of a tube its wall. Leave it empty for round and square bars."
        />
        <MeasureField
          name="legMm"
          label="Other leg"
          kind="thickness"
          value={section?.legMm}
          hint="Of an angle only."
        />
        <MeasureField
          name="stockLengthMm"
          label="A whole bar is long"
          kind="length"
          value={section?.stockLengthMm}
          required
        />
        <MeasureField
          name="kerfMm"
          label="The saw takes"
          kind="thickness"
          value={section?.kerfMm ?? 2}
          hint="Width of one cut; 0 for shears."
          required
        />
        <MeasureField
          name="leastOffcutMm"
          label="Keep offcuts from"
          kind="length"
          value={section?.leastOffcutMm ?? 150}
          hint="Shorter is scrap, and part of what was cut."
          required
        />
      </div>
      <Submit>Write it down</Submit>
    </Form>
  );
}
