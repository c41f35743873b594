"use client";

import { useId, useState } from "react";
import { UNIT_SIGNS } from "@/lib/stock";
import { enteredUnit, type UnitSystem } from "@/lib/units";
import { Button, type MoneyCustoms, Said, signedMoneyText, useUnits } from "@/app/ui";
import { QUANTITY_KINDS } from "../quantity";
import type { CountEntry } from "./count-book";
import type { SheetRow } from "./sheet-rows";
import { differenceWords, expectedWords, foundAmount } from "./count-words";
import type { Counting } from "./use-count";

const BOX =
  "min-h-14 w-full min-w-0 rounded-[var(--radius-plate)] border border-rim bg-sheet px-3 text-2xl aria-invalid:border-2 aria-invalid:border-oxide";

type Props = {
  readonly row: SheetRow;
  readonly entry: CountEntry | undefined;
  readonly counting: Counting;
  /** Shows what the ledger says before anything is typed. */
  readonly open: boolean;
  readonly customs: MoneyCustoms;
};

/** One thing on the shelf: a big number, a note, and what became of it. */
export function CountRowForm({ row, entry, counting, open, customs }: Props) {
  const units = useUnits();
  const id = useId();
  const [wrong, setWrong] = useState("");
  const inPacks = entry?.inPacks ?? false;

  const submit = (event: React.SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const found = foundAmount(entry?.typed ?? "", inPacks, row, units);
    setWrong(typeof found === "string" ? found : "");
    if (typeof found === "string") return;
    counting.save(row, found);
    focusNext(event.currentTarget);
  };

  return (
    <li className="plate p-3">
      <form onSubmit={submit} noValidate className="space-y-2">
        <label htmlFor={id} className="block text-lg font-semibold">
          {row.name}
          {row.lotWords ? (
            <span className="block text-base font-normal text-zinc">{row.lotWords}</span>
          ) : null}
        </label>
        <div className="flex gap-2">
          <input
            id={id}
            data-count
            type="text"
            inputMode={units === "US" && row.unit === "MILLIMETRE" ? "text" : "decimal"}
            autoComplete="off"
            enterKeyHint="next"
            value={entry?.typed ?? ""}
            aria-invalid={wrong ? true : undefined}
            aria-describedby={`${id}-state`}
            className={BOX}
            onChange={(event) => {
              setWrong("");
              counting.type(row, { typed: event.target.value });
            }}
          />
          <UnitChoice row={row} inPacks={inPacks} counting={counting} units={units} />
          <Button size="bench" kind={entry?.state === "typed" ? "main" : "plain"}>
            Save
          </Button>
        </div>
        <NoteField row={row} entry={entry} counting={counting} />
        <p id={`${id}-state`} aria-live="polite" className={stateClass(entry, wrong)}>
          {wrong ? <Said>{wrong}</Said> : <RowState {...{ row, entry, open, customs }} />}
        </p>
      </form>
    </li>
  );
}

/** After saving with the keyboard the next thing is at hand. */
function focusNext(form: HTMLFormElement): void {
  const fields = [...document.querySelectorAll<HTMLInputElement>("input[data-count]")];
  const own = fields.findIndex((field) => form.contains(field));
  fields[own + 1]?.focus();
}

type UnitProps = Pick<Props, "row" | "counting"> & {
  readonly inPacks: boolean;
  readonly units: UnitSystem;
};

function UnitChoice({ row, inPacks, counting, units }: UnitProps) {
  const kind = QUANTITY_KINDS[row.unit];
  const sign = kind ? enteredUnit(kind, units).sign : UNIT_SIGNS[row.unit];
  if (!row.pack) return <span className="flex items-center whitespace-nowrap">{sign}</span>;
  return (
    <select
      aria-label={`${row.name}${row.lotWords ? `, ${row.lotWords}` : ""}: counted in`}
      className="min-h-14 rounded-[var(--radius-plate)] border border-rim bg-sheet px-2"
      value={inPacks ? "packs" : "unit"}
      onChange={(event) => {
        counting.type(row, { inPacks: event.target.value === "packs" });
      }}
    >
      <option value="unit">{sign}</option>
      <option value="packs">{row.pack.name}</option>
    </select>
  );
}

function NoteField({ row, entry, counting }: Pick<Props, "row" | "entry" | "counting">) {
  return (
    <details>
      <summary className="flex min-h-12 items-center text-zinc">
        {entry?.note ? `Note: ${entry.note}` : "Add a note"}
      </summary>
      <input
        type="text"
        aria-label={`Note on ${row.name}${row.lotWords ? `, ${row.lotWords}` : ""}`}
        maxLength={500}
        // A saved count keeps its note; a new one begins with a new number.
        readOnly={entry?.state === "saved"}
        value={entry?.note ?? ""}
        className={BOX.replace("text-2xl", "text-base")}
        onChange={(event) => {
          counting.type(row, { note: event.target.value });
        }}
      />
    </details>
  );
}

function stateClass(entry: CountEntry | undefined, wrong: string): string {
  if (wrong || entry?.state === "refused") return "font-medium text-oxide";
  if (entry?.state === "saved") return "font-medium";
  return "text-zinc";
}

function RowState({ row, entry, open, customs }: Omit<Props, "counting">) {
  const units = useUnits();
  const ledger = open ? `Ledger: ${expectedWords(row.expected, row, units)}. ` : "";
  if (!entry || entry.state === "typed") return `${ledger}${entry ? "Not saved yet." : ""}`;
  if (entry.state === "waiting") return `${ledger}Kept on this phone, on its way to the shop.`;
  if (entry.state === "refused") return <Said>{entry.message}</Said>;
  const words = differenceWords(entry.difference, row.unit, units);
  const worth =
    entry.costMinor === null || entry.difference === 0
      ? ""
      : `, ${signedMoneyText(entry.costMinor, customs)}`;
  return `✓ Saved: ${words}${worth}.`;
}
