import { randomUUID } from "node:crypto";
import type { JobMoney } from "@/lib/services";
import {
  CheckField,
  Form,
  moneyText,
  NumberField,
  Section,
  SelectField,
  Submit,
  TextField,
} from "@/app/ui";
import { issueAction } from "./actions";
import { EXTRA_ROWS } from "./rows";

/** Writes the final statement: what was accepted, what was agreed since, less what was paid. */
export function StatementForm({ view }: { readonly view: JobMoney }) {
  const { job, accepted, shop, unfinished } = view;
  const accept = accepted.quoteNumbers.join(" and ");
  return (
    <Section title="Write the final statement" id="write" plate>
      <p className="mb-4 max-w-prose">
        {accept
          ? `It charges what was accepted with quote ${accept}, ${moneyText(accepted.totalMinor, shop)}, and what you add here. `
          : "No quote was accepted: it charges what you add here. "}
        Once written it is never changed; a slip is put right by a credit note.
      </p>
      <Form action={issueAction} label="Write the final statement">
        <input type="hidden" name="jobId" value={job.id} />
        <input type="hidden" name="idempotencyKey" value={randomUUID()} />
        <Extras view={view} open={accept === ""} />
        {unfinished.length > 0 ? (
          <CheckField
            name="evenUnfinished"
            label={`Charge it although part ${unfinished.join(", ")} is still to be done`}
          />
        ) : null}
        <Submit>Write the statement</Submit>
      </Form>
    </Section>
  );
}

type ExtrasProps = { readonly view: JobMoney; readonly open: boolean };

function Extras({ view: { taxRules, pricesIncludeTax, shop }, open }: ExtrasProps) {
  const options = taxRules.map(({ code, label }) => ({ value: code, label }));
  return (
    <details className="rounded-[var(--radius-plate)] border border-line" open={open}>
      <summary className="flex min-h-11 items-center px-4 font-medium">
        Extra work and reductions
      </summary>
      <div className="space-y-4 border-t border-line p-4">
        <p className="text-sm text-zinc">
          Amounts {pricesIncludeTax ? "with their tax" : "before tax"}; a reduction begins with a
          minus. Rows that stay empty are left out.
        </p>
        {EXTRA_ROWS.map((row) => (
          <fieldset key={row} className="grid gap-4 sm:grid-cols-[2fr_1fr_1fr]">
            <legend className="sr-only">Added line {row + 1}</legend>
            <TextField name={`label${row}`} label="For what" />
            <NumberField
              name={`amount${row}`}
              label="Amount"
              unit={shop.currency}
              keyboard="text"
            />
            <SelectField
              name={`taxCode${row}`}
              label="Tax"
              options={options}
              defaultValue={options[0]?.value}
            />
          </fieldset>
        ))}
      </div>
    </details>
  );
}
