import { randomUUID } from "node:crypto";
import { formatDay } from "@/lib/server";
import type { JobMoney, ShownPayment } from "@/lib/services";
import {
  Empty,
  Form,
  moneyText,
  NumberField,
  SelectField,
  signedMoneyText,
  Submit,
  TextField,
} from "@/app/ui";
import { correctAction } from "./actions";
import { METHOD_LABELS, METHOD_OPTIONS } from "./words";

type Props = { readonly view: JobMoney };

/** What came in and went back, newest first; a slip is put right by a new entry. */
export function Payments({ view }: Props) {
  const { payments, shop, balance } = view;
  if (payments.length === 0) return <Empty>No money has come in for this job yet.</Empty>;
  return (
    <>
      <ul className="plate divide-y divide-line">
        {payments.map((payment) => (
          <li key={payment.id} className="space-y-2 p-4">
            <PaymentLine payment={payment} view={view} />
            {view.mayBill && !payment.correctsId && !payment.takenBackById ? (
              <Correction payment={payment} view={view} />
            ) : null}
          </li>
        ))}
      </ul>
      <p className="mt-3 font-semibold">Together {moneyText(balance.paidMinor, shop)}</p>
    </>
  );
}

type LineProps = { readonly payment: ShownPayment; readonly view: JobMoney };

function PaymentLine({ payment, view: { shop } }: LineProps) {
  const { amountMinor, correctsId, takenBackById, method, reference, note } = payment;
  const what = correctsId ? "Takes an entry back" : amountMinor < 0 ? "Paid back" : "Paid";
  return (
    <div className="flex flex-wrap items-baseline justify-between gap-x-6 gap-y-1">
      <p>
        <span className="font-semibold">{what}</span>, {METHOD_LABELS[method]},{" "}
        {formatDay(payment.receivedOn, shop)}
        <span className="block text-sm text-zinc">
          {[payment.enteredBy, reference, note].filter((text) => text !== "").join("; ")}
        </span>
        {takenBackById ? (
          <span className="block text-sm text-oxide">Taken back by a later entry.</span>
        ) : null}
      </p>
      <p className="text-lg font-semibold whitespace-nowrap">
        {signedMoneyText(amountMinor, shop)}
      </p>
    </div>
  );
}

function Correction({ payment, view: { shop } }: LineProps) {
  return (
    <details>
      <summary className="flex min-h-11 items-center text-sm text-bath underline underline-offset-3">
        This entry is wrong
      </summary>
      <Form
        action={correctAction}
        label={`Correct ${moneyText(Math.abs(payment.amountMinor), shop)}`}
        className="space-y-4 pt-2"
      >
        <input type="hidden" name="jobId" value={payment.jobId} />
        <input type="hidden" name="paymentId" value={payment.id} />
        <input type="hidden" name="idempotencyKey" value={randomUUID()} />
        <div className="grid gap-4 sm:grid-cols-2">
          <TextField name="reason" label="What was wrong" required />
          <NumberField
            name="amount"
            label="Right amount"
            unit={shop.currency}
            hint="Nothing where there was no such payment."
          />
          <SelectField
            name="method"
            label="How"
            options={METHOD_OPTIONS}
            defaultValue={payment.method}
            required
          />
          <TextField
            name="receivedOn"
            label="On"
            type="date"
            defaultValue={payment.receivedOn.toISOString().slice(0, 10)}
            required
          />
        </div>
        <Submit kind="danger">Take it back and put it right</Submit>
      </Form>
    </details>
  );
}
