import { type JobQuotes, type OptionWish, usualName } from "@/lib/services";
import { Form, NumberField, Section, SelectField, Submit, TextArea, TextField } from "@/app/ui";
import { draftAction } from "./actions";
import { OPTION_NUMBERS } from "./forms";
import { OptionFields, type OptionRow } from "./option-fields";

/** Prices the job, or prices it again: an earlier draft is written over, what was sent is replaced. */
export function DraftForm({ view }: { readonly view: JobQuotes }) {
  const { job, quotes, toQuote, usual, taxRules } = view;
  const open = quotes.find(({ versions }) => versions.every(({ state }) => state !== "ACCEPTED"));
  const newest = open?.versions[0];
  const { title, hint, submit } = wording(newest?.state, quotes.length > 0);
  const values = valuesOf(view, newest);
  const rows = optionRows(usual, newest);
  return (
    <Section title={title} id="price">
      <p className="mb-4 max-w-prose">
        {hint} It covers{" "}
        {toQuote.map(({ mark, description }) => `${mark}, ${description}`).join("; ")}, from the
        newest plans and the rates in force today.
      </p>
      <Form action={draftAction} label={title}>
        <input type="hidden" name="jobId" value={job.id} />
        <p className="max-w-prose text-zinc">
          The customer chooses one of the options that you tick. One that is done otherwise than
          planned is priced from a plan made for it, which is kept only once it is accepted. Every
          option ends with rinsing, drying hot and protection against flash rust.
        </p>
        <div className="grid gap-4 lg:grid-cols-2">
          {OPTION_NUMBERS.map((number, index) => {
            const row = rows[index];
            return row ? <OptionFields key={number} number={number} row={row} /> : null;
          })}
        </div>
        <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
          <SelectField
            name="taxCode"
            label="Tax"
            options={taxRules.map(({ code, label }) => ({ value: code, label }))}
            defaultValue={values.taxCode}
            required
          />
          <NumberField
            name="depositPercent"
            label="Deposit asked before work begins"
            unit="%"
            defaultValue={values.depositPercent}
            required
          />
          <TextField
            name="validUntil"
            label="Holds until"
            type="date"
            defaultValue={values.validUntil.toISOString().slice(0, 10)}
            required
          />
        </div>
        <div className="grid gap-4 sm:grid-cols-2">
          <TextArea
            name="messageToCustomer"
            label="A word to the customer"
            defaultValue={values.messageToCustomer}
          />
          <TextArea name="terms" label="Terms" defaultValue={values.terms} />
        </div>
        <div className="flex flex-wrap gap-3">
          {usual.length > 1 ? (
            <Submit kind="plain" name="usual" value="yes">
              Price the usual {usual.length}:{" "}
              {usual.map(({ name }) => name.toLowerCase()).join(", ")}
            </Submit>
          ) : null}
          <Submit>{submit}</Submit>
        </div>
      </Form>
    </Section>
  );
}

type Version = JobQuotes["quotes"][number]["versions"][number];

/** What the form says: as the newest version was made, else as the shop usually does it. */
function valuesOf({ shop, usualTaxCode, usualValidUntil }: JobQuotes, newest: Version | undefined) {
  if (!newest) {
    return {
      taxCode: usualTaxCode,
      depositPercent: shop.quoteDepositPercent,
      validUntil: usualValidUntil,
      messageToCustomer: "",
      terms: shop.quoteTerms,
    };
  }
  const { depositPercent, messageToCustomer, terms, validUntil, state, options } = newest;
  return {
    ...{ depositPercent, messageToCustomer, terms },
    taxCode: options[0]?.lines[0]?.taxCode ?? usualTaxCode,
    validUntil: state === "DRAFT" ? validUntil : usualValidUntil,
  };
}

/** Ready to be ticked beside what usually makes sense. */
const READY_WISHES: readonly Omit<OptionWish, "name">[] = [
  { goal: "RUST_ONLY", rush: false },
  { goal: "STRIP_TO_METAL", rush: false },
  { goal: null, rush: true },
];
const READY = READY_WISHES.map((wish): OptionWish => ({ ...wish, name: usualName(wish) }));

/** What is offered stands first; then what is ready to be ticked, and what is free. */
function optionRows(usual: readonly OptionWish[], newest: Version | undefined): OptionRow[] {
  const offered = newest
    ? newest.options.map(({ name, goal, rush, stored, discountPercent }) => ({
        ...{ name, goal, rush },
        discountPercent: stored ? (stored.discountAsked ?? undefined) : discountPercent,
      }))
    : usual.slice(0, 1);
  const ready = [...usual, ...READY].filter(
    (wish, index, all) =>
      !offered.some((other) => isSame(wish, other)) &&
      all.findIndex((other) => isSame(wish, other)) === index,
  );
  const free: OptionWish = { name: "", goal: null, rush: false };
  return [
    ...offered.map((wish) => ({ ...wish, offered: true })),
    ...[...ready, free, free, free].map((wish) => ({ ...wish, offered: false })),
  ].slice(0, OPTION_NUMBERS.length);
}

const isSame = (one: OptionWish, other: OptionWish): boolean =>
  one.goal === other.goal && one.rush === other.rush;

type State = Version["state"];

function wording(state: State | undefined, quotedBefore: boolean) {
  if (state === "DRAFT") {
    return {
      title: "Change the draft",
      hint: "The draft above is priced again.",
      submit: "Price it again",
    };
  }
  if (state === "SENT") {
    return {
      title: "Change the offer",
      hint: "A new version takes the place of the one with the customer, who then cannot accept the old one.",
      submit: "Make a new version",
    };
  }
  if (state !== undefined) {
    return {
      title: "Offer again",
      hint: "A new version of the same quote.",
      submit: "Make a new version",
    };
  }
  return quotedBefore
    ? {
        title: "Price the rest",
        hint: "A quote of its own for what was not accepted yet.",
        submit: "Price it",
      }
    : { title: "Price this job", hint: "A draft that only the shop sees.", submit: "Price it" };
}
