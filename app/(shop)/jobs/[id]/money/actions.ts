"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  correctPayment,
  creditStatement,
  type Extra,
  issueStatement,
  PAYMENT_METHODS,
  recordPayment,
} from "@/lib/services";
import { EXTRA_ROWS, MOST_LINES } from "./rows";
import { typedAmount } from "../../../typed-amount";

const shown = (jobId: string): void => {
  revalidatePath(`/jobs/${jobId}`, "layout");
  revalidatePath("/money");
};

const amount = z.string().trim().max(40, "At most 40 characters.").default("");
const numbered = <Schema extends z.ZodType>(
  name: string,
  rows: readonly number[],
  schema: Schema,
) => Object.fromEntries(rows.map((row) => [`${name}${row}`, schema])) as Record<string, Schema>;

/** Numbered fields lose their names in the schema's type. */
type TypedFields = Readonly<Record<string, unknown>>;
const asText = (typed: unknown): string => (typeof typed === "string" ? typed : "");

const StatementForm = z.object({
  jobId: input.id,
  evenUnfinished: input.ticked,
  idempotencyKey: z.uuid(),
  ...numbered("label", EXTRA_ROWS, input.optionalText(200)),
  ...numbered("amount", EXTRA_ROWS, amount),
  ...numbered("taxCode", EXTRA_ROWS, input.optionalText(60)),
});

export const issueAction = formAction(StatementForm, async (actor, form) => {
  const { currency } = await shopSettings();
  const typed = form as TypedFields;
  const extras = EXTRA_ROWS.flatMap((row) => extraOf(row, typed, currency));
  const { jobId, evenUnfinished, idempotencyKey } = form;
  await issueStatement(actor, { jobId, extras, evenUnfinished, idempotencyKey }, new Date());
  shown(jobId);
  return { message: "The statement is written." };
});

function extraOf(row: number, typed: TypedFields, currency: string): Extra[] {
  const of = (name: string): string => asText(typed[`${name}${row}`]);
  const label = of("label");
  const typedIn = of("amount");
  if (label === "" && typedIn === "") return [];
  if (label === "") {
    throw new Refusal("invalid", "Please look at the marked fields.", {
      [`label${row}`]: "Say what this is for.",
    });
  }
  const amountMinor = typedAmount(`amount${row}`, typedIn, currency);
  return [{ label, amountMinor, taxCode: of("taxCode") }];
}

const CREDIT_LINES = Array.from({ length: MOST_LINES }, (_, position) => position);
const CreditForm = z.object({
  jobId: input.id,
  statementId: input.id,
  all: input.ticked,
  reason: input.text("why it is credited", 400),
  idempotencyKey: z.uuid(),
  ...numbered("gross", CREDIT_LINES, amount),
});

export const creditAction = formAction(CreditForm, async (actor, form) => {
  const { currency } = await shopSettings();
  const { jobId, statementId, reason, idempotencyKey } = form;
  const typed = form as TypedFields;
  const amounts = CREDIT_LINES.flatMap((position) => {
    const name = `gross${position}`;
    const typedIn = asText(typed[name]);
    return typedIn === "" ? [] : [{ position, grossMinor: typedAmount(name, typedIn, currency) }];
  });
  const asked = form.all ? "rest" : amounts;
  await creditStatement(actor, { statementId, asked, reason, idempotencyKey }, new Date());
  shown(jobId);
  return { message: "The credit note is written." };
});

const PaymentForm = z.object({
  jobId: input.id,
  refund: input.ticked,
  amount,
  receivedOn: input.day,
  method: z.enum(PAYMENT_METHODS, { error: "Choose how it was paid." }),
  reference: input.optionalText(200),
  note: input.optionalText(400),
  idempotencyKey: z.uuid(),
});

export const paymentAction = formAction(PaymentForm, async (actor, form) => {
  const { currency } = await shopSettings();
  const amountMinor = typedAmount("amount", form.amount, currency);
  await recordPayment(actor, { ...form, amountMinor }, new Date());
  shown(form.jobId);
  return { message: form.refund ? "Written down: paid back." : "Written down: paid." };
});

const CorrectionForm = z.object({
  jobId: input.id,
  paymentId: input.id,
  reason: input.text("why", 400),
  amount,
  receivedOn: input.day,
  method: z.enum(PAYMENT_METHODS, { error: "Choose how it was paid." }),
  idempotencyKey: z.uuid(),
});

export const correctAction = formAction(CorrectionForm, async (actor, form) => {
  const { currency } = await shopSettings();
  const { jobId, paymentId, reason, receivedOn, method, idempotencyKey } = form;
  const instead =
    form.amount === ""
      ? null
      : {
          amountMinor: typedAmount("amount", form.amount, currency),
          receivedOn,
          method,
          reference: "",
          note: "",
        };
  await correctPayment(actor, { paymentId, reason, instead, idempotencyKey }, new Date());
  shown(jobId);
  return { message: "Taken back." };
});
