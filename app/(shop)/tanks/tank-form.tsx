"use client";

import { useState } from "react";
import { fieldText, type UnitSystem } from "@/lib/units";
import {
  Form,
  type FormAction,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextArea,
  TextField,
  UnitsHint,
  useFormUnits,
} from "@/app/ui";

type Kind = "TAPERED_BOX" | "ROUND" | "MEASURED";

/** What a tank's form starts from: stored measures, null where there is none yet. */
export type TankValues = {
  readonly tankId?: string;
  readonly name: string;
  readonly place: string;
  readonly kind: Kind;
  readonly topLengthMm: number | null;
  readonly topWidthMm: number | null;
  readonly bottomLengthMm: number | null;
  readonly bottomWidthMm: number | null;
  readonly depthMm: number | null;
  readonly workingLevelMm: number | null;
  readonly clearanceMm: number;
  readonly marks: readonly { readonly levelMm: number; readonly volumeL: number }[];
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
        <MeasureField
          name="leadLengthM"
          label="Length of one lead"
          kind="distance"
          value={values.leadLengthM}
          required
        />
        <MeasureField
          name="leadAreaMm2"
          label="Copper of a lead"
          kind="section"
          hint="AWG 14 is 2.1, AWG 12 is 3.3, AWG 10 is 5.3 mm²."
          value={values.leadAreaMm2}
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
      <div className="sm:col-span-2">
        <UnitsHint kind="length" />
      </div>
      <MeasureField
        name="topLengthMm"
        label={`${across} at the rim`}
        kind="length"
        value={values.topLengthMm}
        required
      />
      {round ? null : (
        <MeasureField
          name="topWidthMm"
          label="Width at the rim"
          kind="length"
          value={values.topWidthMm}
          required
        />
      )}
      <MeasureField
        name="bottomLengthMm"
        label={`${across} at the floor`}
        kind="length"
        value={values.bottomLengthMm}
        required
      />
      {round ? null : (
        <MeasureField
          name="bottomWidthMm"
          label="Width at the floor"
          kind="length"
          value={values.bottomWidthMm}
          required
        />
      )}
      <MeasureField name="depthMm" label="Depth" kind="length" value={values.depthMm} required />
      <MeasureField
        name="workingLevelMm"
        label="Working level"
        kind="length"
        hint="How high it is filled, below the rim."
        value={values.workingLevelMm}
        required
      />
      <MeasureField
        name="clearanceMm"
        label="Kept free towards anode and floor"
        kind="length"
        value={values.clearanceMm}
        required
      />
      {kind === "MEASURED" ? <MarksField marks={values.marks} /> : null}
    </fieldset>
  );
}

const MARK_WORDS: Readonly<Record<UnitSystem, { readonly label: string; readonly line: string }>> =
  {
    METRIC: { label: "Measured litres", line: "millimetres, a space, litres" },
    US: { label: "Measured gallons", line: "inches, a space, US gallons" },
  };

/** What the vessel was found to hold up to each level. */
function MarksField({ marks }: Pick<TankValues, "marks">) {
  const units = useFormUnits();
  const { label, line } = MARK_WORDS[units];
  const lines = marks.map(
    ({ levelMm, volumeL }) =>
      `${fieldText("length", levelMm, units)} ${fieldText("volume", volumeL, units)}`,
  );
  return (
    <TextArea
      name="marks"
      label={label}
      rows={5}
      hint={`One line for each level: ${line} in it up to there. Two lines or more.`}
      defaultValue={lines.join("\n")}
    />
  );
}
