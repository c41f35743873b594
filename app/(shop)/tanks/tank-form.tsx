"use client";

import { useState } from "react";
import {
  Form,
  type FormAction,
  NumberField,
  SelectField,
  Submit,
  TextArea,
  TextField,
} from "@/app/ui";

type Kind = "TAPERED_BOX" | "ROUND" | "MEASURED";

/** What a tank's form starts from. */
export type TankValues = {
  readonly tankId?: string;
  readonly name: string;
  readonly place: string;
  readonly kind: Kind;
  readonly topLengthMm: number | "";
  readonly topWidthMm: number | "";
  readonly bottomLengthMm: number | "";
  readonly bottomWidthMm: number | "";
  readonly depthMm: number | "";
  readonly workingLevelMm: number | "";
  readonly clearanceMm: number;
  readonly marks: string;
  readonly supplyId: string;
  readonly leadLengthM: number;
  readonly leadAreaMm2: number;
  readonly contactOhm: number;
  readonly notes: string;
};

type TankFormProps = {
  readonly action: FormAction;
  readonly values: TankValues;
  readonly supplies: readonly { readonly value: string; readonly label: string }[];
  readonly submit: string;
};

const KINDS: readonly { readonly value: Kind; readonly label: string }[] = [
  { value: "TAPERED_BOX", label: "Tub or trough: four sides, straight or tapered" },
  { value: "ROUND", label: "Barrel or bucket: round, straight or tapered" },
  { value: "MEASURED", label: "Any other shape: filled once by the measured bucket" },
];

/** A tank's measures, its supply and its leads. Which measures are asked follows its shape. */
export function TankForm({ action, values, supplies, submit }: TankFormProps) {
  const [kind, setKind] = useState<Kind>(values.kind);
  return (
    <Form action={action} label="Tank" className="space-y-6">
      {values.tankId ? <input type="hidden" name="tankId" value={values.tankId} /> : null}
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField
          name="name"
          label="Name"
          hint="What people in the shop call it."
          defaultValue={values.name}
          required
        />
        <TextField name="place" label="Where it stands" defaultValue={values.place} />
      </div>
      <fieldset onChange={(event) => setKind(kindOf(event) ?? kind)}>
        <legend className="text-lg font-semibold">Shape</legend>
        <SelectField
          name="kind"
          label="Which kind of vessel"
          options={KINDS}
          defaultValue={values.kind}
          required
        />
      </fieldset>
      <Measures kind={kind} values={values} />
      <fieldset className="grid gap-4 sm:grid-cols-2">
        <legend className="mb-2 text-lg font-semibold">Supply and leads</legend>
        <SelectField
          name="supplyId"
          label="Supply"
          options={[{ value: "", label: "none yet" }, ...supplies]}
          defaultValue={values.supplyId}
        />
        <NumberField
          name="leadLengthM"
          label="Length of one lead"
          unit="m"
          defaultValue={values.leadLengthM}
          required
        />
        <NumberField
          name="leadAreaMm2"
          label="Copper of a lead"
          unit="mm²"
          hint="AWG 14 is 2.1, AWG 12 is 3.3, AWG 10 is 5.3 mm²."
          defaultValue={values.leadAreaMm2}
          required
        />
        <NumberField
          name="contactOhm"
          label="Clips and clamps together"
          unit="Ω"
          hint="0.02 for bright ones (assumption)."
          defaultValue={values.contactOhm}
          required
        />
      </fieldset>
      <TextArea name="notes" label="Notes" defaultValue={values.notes} />
      <Submit>{submit}</Submit>
    </Form>
  );
}

function kindOf(event: React.ChangeEvent<HTMLFieldSetElement>): Kind | undefined {
  const select: EventTarget = event.target;
  if (!(select instanceof HTMLSelectElement)) return undefined;
  return KINDS.find(({ value }) => value === select.value)?.value;
}

function Measures({ kind, values }: { readonly kind: Kind; readonly values: TankValues }) {
  const round = kind === "ROUND";
  const across = round ? "Diameter" : "Length";
  return (
    <fieldset className="grid gap-4 sm:grid-cols-2">
      <legend className="mb-2 text-lg font-semibold">Inside measures</legend>
      <NumberField
        name="topLengthMm"
        label={`${across} at the rim`}
        unit="mm"
        defaultValue={values.topLengthMm}
        required
      />
      {round ? null : (
        <NumberField
          name="topWidthMm"
          label="Width at the rim"
          unit="mm"
          defaultValue={values.topWidthMm}
          required
        />
      )}
      <NumberField
        name="bottomLengthMm"
        label={`${across} at the floor`}
        unit="mm"
        defaultValue={values.bottomLengthMm}
        required
      />
      {round ? null : (
        <NumberField
          name="bottomWidthMm"
          label="Width at the floor"
          unit="mm"
          defaultValue={values.bottomWidthMm}
          required
        />
      )}
      <NumberField name="depthMm" label="Depth" unit="mm" defaultValue={values.depthMm} required />
      <NumberField
        name="workingLevelMm"
        label="Working level"
        unit="mm"
        hint="How high it is filled, below the rim."
        defaultValue={values.workingLevelMm}
        required
      />
      <NumberField
        name="clearanceMm"
        label="Kept free towards anode and floor"
        unit="mm"
        defaultValue={values.clearanceMm}
        required
      />
      {kind === "MEASURED" ? (
        <TextArea
          name="marks"
          label="Measured litres"
          rows={5}
          hint="One line for each level: millimetres, a space, litres in it up to there. Two lines or more."
          defaultValue={values.marks}
        />
      ) : null}
    </fieldset>
  );
}
