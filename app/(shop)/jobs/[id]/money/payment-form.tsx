import { randomUUID } from "node:crypto";
import type { JobMoney } from "@/lib/services";
import { majorUnits, minorDigits, money } from "@/lib/money";
import { localInputValue } from "@/lib/server";
import { CheckField, Form, NumberField, Section, SelectField, Submit, TextField } from "@/app/ui";
import { paymentAction } from "./actions";
import { METHOD_OPTIONS } from "./words";

type Props = { readonly view: JobMoney; readonly now: Date };

/** Money that came in, or went back. A repeated tap writes once. */
export function PaymentForm({ view, now }: Props) {
  const { job, shop, balance, depositDueMinor } = view;
  const expected = balance.balanceMinor > 0 ? balance.balanceMinor : depositDueMinor;
  return (
    <Section title="Money came in or went back" id="pay" plate>
      <Form action={paymentAction} label="Write down a payment" clearWhenDone>
        <input type="hidden" name="jobId" value={job.id} />
        <input type="hidden" name="idempotencyKey" value={randomUUID()} />
        <div className="grid gap-4 sm:grid-cols-2">
          <NumberField
            name="amount"
            label="Amount"
            unit={shop.currency}
            defaultValue={
              expected > 0
                ? majorUnits(money(expected, shop.currency)).toFixed(minorDigits(shop.currency))
                : undefined
            }
            required
          />
          <SelectField
            name="method"
            label="How"
            options={METHOD_OPTIONS}
            defaultValue="CASH"
            required
          />
          <TextField
            name="receivedOn"
            label="On"
            type="date"
            defaultValue={localInputValue(now, shop.timeZone).slice(0, 10)}
            required
          />
          <TextField name="reference" label="Reference" hint="As it stands on the slip." />
          <TextField name="note" label="Note" />
          <CheckField name="refund" label="It went back to the customer" />
        </div>
        <Submit>Write it down</Submit>
      </Form>
    </Section>
  );
}
