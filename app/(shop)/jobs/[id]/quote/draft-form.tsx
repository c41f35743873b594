import type { JobQuotes } from "@/lib/services";
import { CheckField, Form, NumberField, Section, Submit, TextArea, TextField } from "@/app/ui";
import { draftAction } from "./actions";

/** Prices the job, or prices it again: an earlier draft is written over, what was sent is replaced. */
export function DraftForm({ view }: { readonly view: JobQuotes }) {
  const { job, quotes, toQuote, usualValidUntil, shop } = view;
  const open = quotes.find(({ versions }) => versions.every(({ state }) => state !== "ACCEPTED"));
  const newest = open?.versions[0];
  const { title, hint, submit } = wording(newest?.state, quotes.length > 0);
  const values = newest ? { ...newest, ...leading(newest) } : firstTime(shop.quoteTerms);
  const day = newest?.state === "DRAFT" ? newest.validUntil : usualValidUntil;
  return (
    <Section title={title} id="price">
      <p className="mb-4 max-w-prose">
        {hint} It covers{" "}
        {toQuote.map(({ mark, description }) => `${mark}, ${description}`).join("; ")}, from the
        newest plans and the rates in force today.
      </p>
      <Form action={draftAction} label={title}>
        <input type="hidden" name="jobId" value={job.id} />
        <div className="grid gap-4 sm:grid-cols-2">
          <NumberField
            name="discountPercent"
            label="Discount"
            unit="%"
            defaultValue={values.discountPercent}
            required
          />
          <TextField
            name="validUntil"
            label="Holds until"
            type="date"
            defaultValue={day.toISOString().slice(0, 10)}
            required
          />
          <CheckField
            name="rush"
            label="Rush: this job goes first, at the rush rate"
            defaultChecked={values.rush}
            className="sm:col-span-2"
          />
          <TextArea
            name="messageToCustomer"
            label="A word to the customer"
            defaultValue={values.messageToCustomer}
          />
          <TextArea name="terms" label="Terms" defaultValue={values.terms} />
        </div>
        <Submit>{submit}</Submit>
      </Form>
    </Section>
  );
}

/** What the form says before anything was priced. */
const firstTime = (terms: string) => ({
  discountPercent: 0,
  rush: false,
  messageToCustomer: "",
  terms,
});

/** What the option that the shop leads with was made with. */
function leading({ options }: JobQuotes["quotes"][number]["versions"][number]) {
  return { rush: options[0]?.rush ?? false, discountPercent: options[0]?.discountPercent ?? 0 };
}

type State = JobQuotes["quotes"][number]["versions"][number]["state"];

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
