import {
  COATING_NAMES,
  COATINGS,
  GOAL_NAMES,
  GOALS,
  HARDNESS_MATTERS,
  type Hazard,
  HAZARD_NAMES,
  HAZARDS,
  isAsked,
  MATERIAL_NAMES,
  MATERIALS,
  PART_SHAPES,
  RUST_GRADE_WORDS,
  RUST_GRADES,
  SETTLED_MATERIALS,
} from "@/lib/treatment";
import {
  CheckField,
  ChoiceGroup,
  Form,
  type FormAction,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextArea,
  TextField,
} from "@/app/ui";
import type { PartValues } from "./part-values";
import { ShapeFields } from "./shape-fields";

type PartFormProps = {
  readonly action: FormAction;
  /** Hidden fields that say where the part belongs. */
  readonly hidden: Readonly<Record<string, string>>;
  readonly part?: PartValues;
  readonly submit: string;
};

const options = <Code extends string>(
  codes: readonly Code[],
  names: Readonly<Record<Code, string>>,
) => codes.map((value) => ({ value, label: names[value] }));

/** Shown only while something is chosen for which hardness decides: no script, the style sheet looks. */
const WHERE_HARDNESS_MATTERS = [...HARDNESS_MATTERS, "HIGH_STRENGTH_FASTENER" satisfies Hazard]
  .map((chosen) => `form:has([value="${chosen}"]:checked) .where-hardness-matters`)
  .join(", ");

/** A question is hidden while a metal or shape is chosen for which its answer could change nothing. */
const WHERE_NOT_ASKED = HAZARDS.map((hazard) => {
  const moot = [
    ...MATERIALS.filter((material) =>
      PART_SHAPES.every((shape) => !isAsked(hazard, { material, shape })),
    ),
    ...PART_SHAPES.filter((shape) =>
      MATERIALS.every((material) => !isAsked(hazard, { material, shape })),
    ),
  ].map((code) => `[value="${code}"]`);
  return `form:has(:is(${moot.join(", ")}):checked) .ask-${hazard} { display: none }`;
}).join("\n");

/** Nothing at all is asked where the metal is refused in any case. */
const WHERE_SETTLED = `form:has(:is(${SETTLED_MATERIALS.map((code) => `[value="${code}"]`).join(", ")}):checked) .hazards { display: none }`;

export function PartForm({ action, hidden, part, submit }: PartFormProps) {
  return (
    <Form action={action} label="Part" className="space-y-6">
      <style>{`${WHERE_NOT_ASKED}\n${WHERE_SETTLED}`}</style>
      <style>{`.where-hardness-matters { display: none } ${WHERE_HARDNESS_MATTERS} { display: grid }`}</style>
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <div className="grid gap-4 sm:grid-cols-[1fr_8rem]">
        <TextField
          name="description"
          label="What is it?"
          defaultValue={part?.description ?? ""}
          required
        />
        <NumberField name="quantity" label="Pieces" defaultValue={part?.quantity ?? 1} required />
      </div>
      <ShapeFields {...(part ? { part } : {})} />
      <div className="grid gap-4 sm:grid-cols-2">
        <SelectField
          name="material"
          label="Made of"
          options={options(MATERIALS, MATERIAL_NAMES)}
          defaultValue={part?.material}
          hint="Not sure? Choose “not known”: magnet and file first."
          required
        />
        <MeasureField
          name="mass"
          label="Mass"
          kind="partMass"
          value={part?.massG}
          hint="Of one piece. Left empty, it is estimated."
        />
      </div>
      <ChoiceGroup
        legend="Rust, at its worst (ISO 8501-1)"
        hint="For painted parts judge what is under the paint: C or D."
      >
        {RUST_GRADES.map((grade) => (
          <CheckField
            key={grade}
            type="radio"
            name="rustGrade"
            value={grade}
            defaultChecked={(part?.rustGrade ?? "C") === grade}
            label={
              <>
                <strong>{grade}</strong> {RUST_GRADE_WORDS[grade]}
              </>
            }
          />
        ))}
      </ChoiceGroup>
      <ChoiceGroup legend="What is on it">
        {COATINGS.map((coating) => (
          <CheckField
            key={coating}
            name="coatings"
            value={coating}
            defaultChecked={part?.coatings.includes(coating) ?? false}
            label={COATING_NAMES[coating]}
          />
        ))}
      </ChoiceGroup>
      <div className="hazards">
        <ChoiceGroup
          legend="What to be careful of"
          hint="Ask the customer; tick all that is true. Only what matters for this metal and shape is asked."
        >
          {HAZARDS.map((hazard) => (
            <CheckField
              key={hazard}
              name="hazards"
              value={hazard}
              className={`ask-${hazard}`}
              defaultChecked={part?.hazards.includes(hazard) ?? false}
              label={HAZARD_NAMES[hazard]}
            />
          ))}
        </ChoiceGroup>
      </div>
      <Strength part={part} />
      <ChoiceGroup legend="What the customer wants">
        {GOALS.map((goal) => (
          <CheckField
            key={goal}
            type="radio"
            name="goal"
            value={goal}
            defaultChecked={(part?.goal ?? "RUST_ONLY") === goal}
            label={GOAL_NAMES[goal]}
          />
        ))}
      </ChoiceGroup>
      <TextArea name="partNotes" label="Notes" defaultValue={part?.notes ?? ""} rows={2} />
      <Submit>{submit}</Submit>
    </Form>
  );
}

function Strength({ part }: { readonly part: PartValues | undefined }) {
  return (
    <div className="where-hardness-matters gap-4 sm:grid-cols-2">
      <NumberField
        name="hardnessHrc"
        label="Hardness"
        unit="HRC"
        defaultValue={part?.hardnessHrc ?? ""}
        hint="Hydrogen can crack hard steel: from 31 HRC it needs a bake."
      />
      <MeasureField
        name="tensileMpa"
        label="Tensile strength"
        kind="stress"
        value={part?.tensileMpa}
        hint="Where it is known instead."
      />
    </div>
  );
}
