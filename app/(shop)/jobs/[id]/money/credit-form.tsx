import { randomUUID } from "node:crypto";
import type { JobMoney } from "@/lib/services";
import { CheckField, Form, moneyText, NumberField, Submit, TextField } from "@/app/ui";
import { creditAction } from "./actions";
import { MOST_LINES } from "./rows";

type Props = { readonly view: JobMoney; readonly open: NonNullable<JobMoney["open"]> };

/** Takes the open statement back, whole or line by line, by a document of its own. */
export function CreditForm({ view, open }: Props) {
  const { job, shop } = view;
  const lines = view.creditable
    .map((line) => ({ ...line, leftMinor: line.leftNetMinor + line.leftTaxMinor }))
    .filter(({ leftMinor, position }) => leftMinor > 0 && position < MOST_LINES);
  return (
    <details className="rounded-[var(--radius-plate)] border border-line">
      <summary className="flex min-h-11 items-center px-4 font-medium text-oxide">
        Credit statement {open.number}, whole or in part
      </summary>
      <div className="space-y-4 border-t border-line p-4">
        <p className="max-w-prose">
          The statement stays as it was written; a credit note takes back what you name here. Money
          that was paid for it is paid back below.
        </p>
        <Form action={creditAction} label={`Credit statement ${open.number}`} clearWhenDone>
          <input type="hidden" name="jobId" value={job.id} />
          <input type="hidden" name="statementId" value={open.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <TextField name="reason" label="Why" required />
          <CheckField name="all" label="All that is left of it" />
          <div className="grid gap-4 sm:grid-cols-2">
            {lines.map(({ position, label, leftMinor }) => (
              <NumberField
                key={position}
                name={`gross${position}`}
                label={label}
                unit={shop.currency}
                hint={`With its tax, at most ${moneyText(leftMinor, shop)}.`}
              />
            ))}
          </div>
          <Submit kind="danger">Write the credit note</Submit>
        </Form>
      </div>
    </details>
  );
}
