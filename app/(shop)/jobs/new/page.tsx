import type { Metadata } from "next";
import { idFrom, load, requireActorWith } from "@/lib/server";
import { customerById, customerList } from "@/lib/services";
import { CheckField, Form, Page, Section, Submit, TextArea, TextField, TextLink } from "@/app/ui";
import { CustomerFields } from "../../customers/customer-form";
import { takeInAction, takeInForNewCustomerAction } from "../actions";
import { KnownCustomers } from "./known-customers";

export const metadata: Metadata = { title: "Take in a job" };

type Search = { readonly searchParams: Promise<{ customer?: string; q?: string }> };

export default async function NewJobPage({ searchParams }: Search) {
  const actor = await requireActorWith("take-in");
  const { customer: chosen, q = "" } = await searchParams;
  if (chosen) {
    const customer = await load(() => customerById(actor, idFrom(chosen)));
    return <ForKnownCustomer customer={customer} />;
  }
  const found = q.trim() ? await customerList(actor, { search: q, page: 1 }) : null;
  // Nothing matched what was typed: it most likely is the new customer's name.
  const name = found?.total === 0 ? q.trim() : "";
  return (
    <Page title="Take in a job" kicker="Whose is it?" narrow>
      <Section title="Somebody who has been here" id="known" plate>
        <KnownCustomers search={q} found={found} />
      </Section>
      <Section title="Somebody new" id="new" plate>
        <Form key={name} action={takeInForNewCustomerAction} label="Job of a new customer">
          <CustomerFields customer={{ name }} />
          <JobFields />
          <Submit>Add the customer and take it in</Submit>
        </Form>
      </Section>
    </Page>
  );
}

type KnownProps = { readonly customer: { readonly id: string; readonly name: string } };

function ForKnownCustomer({ customer }: KnownProps) {
  return (
    <Page title="Take in a job" kicker={`For ${customer.name}`} narrow>
      <Form action={takeInAction} label="Job of a known customer">
        <input type="hidden" name="customerId" value={customer.id} />
        <JobFields />
        <Submit>Take it in</Submit>
      </Form>
      <p>
        Somebody else? <TextLink href="/jobs/new">Choose the customer again.</TextLink>
      </p>
    </Page>
  );
}

function JobFields() {
  return (
    <>
      <TextField
        name="promisedFor"
        label="Promised for"
        type="date"
        hint="The day the customer was told; it can be set later, when the plan is made."
      />
      <CheckField name="rush" label="Rush: goes before others" />
      <TextArea name="jobNotes" label="Notes" rows={2} />
    </>
  );
}
