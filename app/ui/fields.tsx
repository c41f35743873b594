"use client";

import clsx from "clsx";
import { type ReactNode, useId } from "react";
import { useFormAnswer } from "./form";

export type FieldProps = {
  readonly name: string;
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  readonly required?: boolean;
  readonly className?: string;
};

const BOX =
  "w-full min-h-11 rounded-[var(--radius-plate)] border border-rim bg-sheet px-3 py-2 text-magnetite placeholder:text-zinc aria-invalid:border-oxide aria-invalid:border-2";

type Wiring = {
  readonly id: string;
  readonly error: string | undefined;
  readonly described: string | undefined;
};

function useWiring(name: string, hint: ReactNode): Wiring {
  const id = useId();
  const error = useFormAnswer().state.fields?.[name];
  const described = [hint ? `${id}-hint` : "", error ? `${id}-error` : ""].join(" ").trim();
  return { id, error, described: described === "" ? undefined : described };
}

type FrameProps = FieldProps & { readonly wiring: Wiring; readonly children: ReactNode };

function Frame({ label, hint, required, className, wiring, children }: FrameProps) {
  return (
    <div className={clsx("min-w-0", className)}>
      <label htmlFor={wiring.id} className="mb-1 block font-medium">
        {label}
        {required ? null : <span className="ml-1 text-sm font-normal text-zinc">(optional)</span>}
      </label>
      {children}
      <FieldNotes wiring={wiring} hint={hint} />
    </div>
  );
}

function FieldNotes({ wiring, hint }: { readonly wiring: Wiring; readonly hint: ReactNode }) {
  return (
    <>
      {hint ? (
        <p id={`${wiring.id}-hint`} className="mt-1 text-sm text-zinc">
          {hint}
        </p>
      ) : null}
      {wiring.error ? (
        <p id={`${wiring.id}-error`} className="mt-1 text-sm font-medium text-oxide">
          {wiring.error}
        </p>
      ) : null}
    </>
  );
}

type TextFieldProps = FieldProps & {
  readonly type?:
    "text" | "email" | "tel" | "password" | "date" | "datetime-local" | "time" | "search";
  readonly defaultValue?: string;
  readonly autoComplete?: string;
  readonly placeholder?: string;
};

export function TextField({
  type = "text",
  defaultValue,
  autoComplete,
  placeholder,
  ...field
}: TextFieldProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <Frame {...field} wiring={wiring}>
      <input
        id={wiring.id}
        name={field.name}
        type={type}
        defaultValue={defaultValue}
        autoComplete={autoComplete}
        placeholder={placeholder}
        required={field.required}
        aria-invalid={wiring.error ? true : undefined}
        aria-describedby={wiring.described}
        className={BOX}
      />
    </Frame>
  );
}

type NumberFieldProps = FieldProps & {
  readonly unit?: string;
  readonly defaultValue?: number | string | undefined;
  /** Bench fields are larger. */
  readonly large?: boolean;
  readonly placeholder?: string | undefined;
  readonly keyboard?: "decimal" | "text";
};

/** A measured amount with its unit beside it. Text with a decimal keyboard: spinners slip under wet gloves. */
export function NumberField({
  unit,
  defaultValue,
  large,
  placeholder,
  keyboard = "decimal",
  ...field
}: NumberFieldProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <Frame {...field} wiring={wiring}>
      <span className="flex items-stretch">
        <input
          id={wiring.id}
          name={field.name}
          type="text"
          inputMode={keyboard}
          autoComplete="off"
          placeholder={placeholder}
          defaultValue={defaultValue}
          required={field.required}
          aria-invalid={wiring.error ? true : undefined}
          aria-describedby={wiring.described}
          className={clsx(BOX, unit && "rounded-r-none", large && "min-h-14 text-2xl")}
        />
        {unit ? (
          <span className="flex items-center rounded-r-[var(--radius-plate)] border border-l-0 border-rim bg-zinc-wash px-3 whitespace-nowrap">
            {unit}
          </span>
        ) : null}
      </span>
    </Frame>
  );
}

type FileFieldProps = FieldProps & { readonly accept: string };

/** A file from the person's own disk or camera. */
export function FileField({ accept, ...field }: FileFieldProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <Frame {...field} wiring={wiring}>
      <input
        id={wiring.id}
        type="file"
        name={field.name}
        accept={accept}
        required={field.required}
        aria-invalid={wiring.error ? true : undefined}
        aria-describedby={wiring.described}
        className="min-h-11 w-full py-2"
      />
    </Frame>
  );
}

type SelectFieldProps = FieldProps & {
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly defaultValue?: string | undefined;
};

export function SelectField({ options, defaultValue, ...field }: SelectFieldProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <Frame {...field} wiring={wiring}>
      <select
        id={wiring.id}
        name={field.name}
        defaultValue={defaultValue}
        required={field.required}
        aria-invalid={wiring.error ? true : undefined}
        aria-describedby={wiring.described}
        className={BOX}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </Frame>
  );
}

type TextAreaProps = FieldProps & { readonly defaultValue?: string; readonly rows?: number };

export function TextArea({ defaultValue, rows = 3, ...field }: TextAreaProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <Frame {...field} wiring={wiring}>
      <textarea
        id={wiring.id}
        name={field.name}
        rows={rows}
        defaultValue={defaultValue}
        required={field.required}
        aria-invalid={wiring.error ? true : undefined}
        aria-describedby={wiring.described}
        className={BOX}
      />
    </Frame>
  );
}

type CheckFieldProps = FieldProps & {
  readonly value?: string;
  readonly defaultChecked?: boolean;
  readonly type?: "checkbox" | "radio";
};

/** One box to tick, its whole row a target of 48 px. */
export function CheckField({
  value = "yes",
  defaultChecked,
  type = "checkbox",
  ...field
}: CheckFieldProps) {
  const wiring = useWiring(field.name, field.hint);
  return (
    <div className={clsx("min-w-0", field.className)}>
      <label htmlFor={wiring.id} className="flex min-h-12 items-start gap-3 py-2">
        <input
          id={wiring.id}
          name={field.name}
          type={type}
          value={value}
          defaultChecked={defaultChecked}
          required={field.required}
          aria-invalid={wiring.error ? true : undefined}
          aria-describedby={wiring.described}
          className="mt-0.5 size-6 shrink-0 accent-bath"
        />
        <span className="pt-0.5">{field.label}</span>
      </label>
      <FieldNotes wiring={wiring} hint={field.hint} />
    </div>
  );
}

type ChoiceFieldProps = {
  readonly legend: ReactNode;
  readonly hint?: ReactNode;
  readonly children: ReactNode;
};

/** A named group of boxes. */
export function ChoiceGroup({ legend, hint, children }: ChoiceFieldProps) {
  return (
    <fieldset>
      <legend className="mb-1 font-medium">{legend}</legend>
      {hint ? <p className="mb-1 text-sm text-zinc">{hint}</p> : null}
      <div className="grid gap-x-6 sm:grid-cols-2">{children}</div>
    </fieldset>
  );
}
