"use client";

import type { FormState } from "@/lib/errors";
import { FileField, Form, SelectField, Submit } from "@/app/ui";
import { addOwnShapeAction } from "./field-actions";

type Props = {
  readonly partId: string;
  readonly units: readonly { readonly value: string; readonly label: string }[];
  /** Largest file that is read, bytes. */
  readonly mostBytes: number;
};

/** Brings a part's own shape. A file that is too large is not even sent. */
export function ShapeForm({ partId, units, mostBytes }: Props) {
  const send = async (previous: FormState, form: FormData): Promise<FormState> => {
    const file = form.get("file");
    if (file instanceof File && file.size > mostBytes) {
      const mb = (bytes: number): string => (bytes / 1024 / 1024).toFixed(1);
      const why = `The file has ${mb(file.size)} MB; at most ${mb(mostBytes)} MB can be read.`;
      const message = "The shape is not kept.";
      return { status: "refused", stamp: Date.now(), message, fields: { file: why } };
    }
    return addOwnShapeAction(previous, form);
  };
  return (
    <Form
      action={send}
      label="The part's own shape"
      clearWhenDone
      className="grid items-start gap-4 sm:grid-cols-[1fr_1fr_auto]"
    >
      <input type="hidden" name="id" value={partId} />
      <FileField
        name="file"
        label="STL file"
        hint="Binary or text; small holes are mended."
        accept=".stl,model/stl"
        required
      />
      <SelectField
        name="unit"
        label="Drawn in"
        hint="The file itself does not say."
        options={units}
        required
      />
      <div className="sm:pt-7">
        <Submit kind="plain">Read the shape</Submit>
      </div>
    </Form>
  );
}
