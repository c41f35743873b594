"use client";

import {
  createContext,
  type ReactNode,
  startTransition,
  useActionState,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { type FormState, IDLE_FORM } from "@/lib/errors";
import { said, type UnitSystem } from "@/lib/units";
import { Button, type ButtonKind, type ButtonSize } from "./button";
import { useUnits } from "./units";

export type FormAction = (previous: FormState, form: FormData) => Promise<FormState>;

type FormContextValue = {
  readonly state: FormState;
  readonly pending: boolean;
  /** The units that the form was first shown in; null outside of one. */
  readonly units: UnitSystem | null;
};
const FormContext = createContext<FormContextValue>({
  state: IDLE_FORM,
  pending: false,
  units: null,
});

/** What the form around a field knows: the last answer, and whether one is awaited. */
export const useFormAnswer = (): FormContextValue => useContext(FormContext);

/** The units of the form around a field, else those of the shop. */
export function useFormUnits(): UnitSystem {
  const shop = useUnits();
  return useContext(FormContext).units ?? shop;
}

type FormProps = {
  readonly action: FormAction;
  readonly children: ReactNode;
  readonly className?: string;
  /** Empties the fields once the action is done; what was typed stays after a refusal in any case. */
  readonly clearWhenDone?: boolean;
  readonly label?: string;
};

const LOST =
  "No answer from the shop's service. Nothing you typed is lost: look at the signal and send again.";

/** The action; an answer that never came is a refusal, so that the form and what was typed in it stay on screen. */
const overWeakSignal =
  (action: FormAction): FormAction =>
  async (previous, form) => {
    try {
      return await action(previous, form);
    } catch (error) {
      // A request that got no answer fails with a TypeError in every browser; faults and redirects go on.
      if (!(error instanceof TypeError)) throw error;
      return { status: "refused", message: LOST, stamp: Date.now() };
    }
  };

/**
 * A form around a server action. It is sent by hand rather than through the action attribute alone, since
 * React empties a form after its action, and a refused form must keep what was typed.
 */
export function Form({ action, children, className, clearWhenDone, label }: FormProps) {
  const [answer, send, pending] = useActionState(overWeakSignal(action), IDLE_FORM);
  const form = useRef<HTMLFormElement>(null);
  // Kept as at first: what is typed must mean the same when the shop's setting changes under an open form.
  const [units] = useState(useUnits());
  const state = useMemo(() => inUnits(answer, units), [answer, units]);

  useEffect(() => {
    if (state.status === "refused") firstBadField(form.current, state)?.focus();
    if (state.status === "done" && clearWhenDone) form.current?.reset();
  }, [state, clearWhenDone]);

  return (
    <FormContext value={{ state, pending, units }}>
      <form
        ref={form}
        action={send}
        aria-label={label}
        noValidate
        className={className ?? "space-y-4"}
        onSubmit={(event) => {
          event.preventDefault();
          if (pending) return;
          const submitter = event.nativeEvent.submitter;
          const data = new FormData(event.currentTarget, submitter);
          startTransition(() => {
            send(data);
          });
        }}
      >
        <input type="hidden" name="units" value={units} />
        {children}
        <FormMessage state={state} />
      </form>
    </FormContext>
  );
}

/** An answer with its measures in the units of the form. */
function inUnits(answer: FormState, units: UnitSystem): FormState {
  const { message, fields } = answer;
  const told = Object.entries(fields ?? {}).map(([name, why]) => [name, said(why, units)] as const);
  return {
    ...answer,
    ...(message === undefined ? {} : { message: said(message, units) }),
    ...(fields === undefined ? {} : { fields: Object.fromEntries(told) }),
  };
}

function firstBadField(form: HTMLFormElement | null, state: FormState): HTMLElement | null {
  for (const name of Object.keys(state.fields ?? {})) {
    const found = form?.elements.namedItem(name);
    // Boxes of one name come as a list.
    const field = found instanceof RadioNodeList ? found[0] : found;
    if (field instanceof HTMLElement) return field;
  }
  return null;
}

function FormMessage({ state }: { readonly state: FormState }) {
  const refused = state.status === "refused";
  return (
    <div aria-live="polite" key={state.stamp}>
      {state.message ? (
        <p
          role={refused ? "alert" : "status"}
          className={
            refused
              ? "border-l-4 border-oxide bg-oxide-wash px-3 py-2 text-oxide"
              : "border-l-4 border-bath bg-bath-wash px-3 py-2 text-bath"
          }
        >
          {state.message}
        </p>
      ) : null}
    </div>
  );
}

type SubmitProps = {
  readonly children: ReactNode;
  readonly kind?: ButtonKind;
  readonly size?: ButtonSize;
  readonly name?: string;
  readonly value?: string;
  readonly className?: string;
};

/** Sends its form; disabled while an answer is awaited. */
export function Submit({ children, ...rest }: SubmitProps) {
  const { pending } = useFormAnswer();
  return (
    <Button type="submit" disabled={pending} aria-busy={pending} {...rest}>
      {children}
    </Button>
  );
}
