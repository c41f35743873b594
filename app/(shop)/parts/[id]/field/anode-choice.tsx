"use client";

import { Said } from "@/app/ui";
import { hoursWords } from "./hour-steps";
import { type Hung, ROD_CLEARANCE_MM } from "./hung";

type Props = {
  readonly choices: readonly Hung[];
  /** null: nothing inside */
  readonly chosen: Hung | null;
  readonly onChoose: (hung: Hung | null) => void;
};

/** What hangs inside the part: before and after an inner anode. */
export function AnodeChoice({ choices, chosen, onChoose }: Props) {
  if (choices.length === 0) return null;
  const nearest = Math.min(...choices.map(({ found }) => found?.clearanceMm ?? ROD_CLEARANCE_MM));
  return (
    <fieldset className="plate p-4">
      <legend className="sr-only">What hangs inside the part</legend>
      <p aria-hidden="true" className="mb-1 text-lg font-semibold">
        What hangs inside the part
      </p>
      <Option label="Nothing inside" checked={!chosen} onChoose={() => onChoose(null)} />
      {choices.map((hung) => (
        <Option
          key={hung.words}
          label={hung.words}
          note={hung.found ? `saves ${hoursWords(hung.found.savesH)}` : undefined}
          checked={chosen === hung}
          onChoose={() => onChoose(hung)}
        />
      ))}
      <p className="mt-2 text-sm text-zinc">
        <Said>
          {`Supply off before it is hung. Clear of the part by {${Math.round(nearest)} mm} all round: touching it is a short circuit. Mild steel, never stainless.`}
        </Said>
      </p>
    </fieldset>
  );
}

type OptionProps = {
  readonly label: string;
  readonly note?: string | undefined;
  readonly checked: boolean;
  readonly onChoose: () => void;
};

function Option({ label, note, checked, onChoose }: OptionProps) {
  return (
    <label className="flex min-h-12 items-center gap-3 py-1.5">
      <input
        type="radio"
        name="inner-anode"
        className="size-5 shrink-0 accent-bath"
        checked={checked}
        onChange={onChoose}
      />
      <span>
        <Said>{label}</Said>
        {note ? <span className="text-zinc">, {note}</span> : null}
      </span>
    </label>
  );
}
