import type { ReactNode } from "react";
import { Form, type FormAction, Submit } from "./form";

type ConfirmProps = {
  /** What the closed control says: "Cancel this run". */
  readonly label: ReactNode;
  readonly question: ReactNode;
  readonly action: FormAction;
  readonly confirm: ReactNode;
  /** Hidden fields and further questions. */
  readonly children?: ReactNode;
};

/** A destructive act that asks once: it opens to its question and the button that does it. */
export function Confirm({ label, question, action, confirm, children }: ConfirmProps) {
  return (
    <details className="rounded-[var(--radius-plate)] border border-line">
      <summary className="flex min-h-11 items-center px-4 font-medium text-oxide">{label}</summary>
      <div className="space-y-3 border-t border-line p-4">
        <p>{question}</p>
        <Form action={action}>
          {children}
          <Submit kind="danger">{confirm}</Submit>
        </Form>
      </div>
    </details>
  );
}
