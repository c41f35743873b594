import type { Metadata } from "next";
import { requireActorWith, withNotFound } from "@/lib/server";
import { customerById, customerList } from "@/lib/services";
import {
  Form,
  Notice,
  Page,
  Section,
  SelectField,
  Submit,
  TextArea,
  TextField,
  TextLink,
} from "@/app/ui";
import { CustomerFields } from "../../customers/customer-form";
import { SearchForm } from "../../search-form";
import { takeInAction, takeInForNewCustomerAction } from "../actions";

export const metadata: Metadata = { title: "Take in a job" };

type Search = { readonly searchParams: Promise<{ customer?: string; q?: string }> };

export default async function NewJobPage({ searchParams }: Search) {
  const actor = await requireActorWith("take-in");
  const { customer: customerId, q = "" } = await searchParams;
  if (customerId) {
    const customer = await withNotFound(() => customerById(actor, customerId));
    return (
      <Page title="Take in a job" kicker={`For ${customer.name}`} narrow>
        <Form action={takeInAction} label="Take in a job">
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
  const found = await customerList(actor, { search: q, page: 1 });
  return (
    <Page title="Take in a job" kicker="Whose is it?" narrow>
      <Section title="Somebody who has been here" id="known" plate>
        <div className="space-y-4">
          <SearchForm action="/jobs/new" label="Find a customer" value={q} />
          {found.rows.length === 0 ? (
            <Notice tone="zinc" title={q ? `Nobody matches “${q}”.` : "No customers yet."} />
          ) : (
            <Form action={takeInAction} label="Job of a known customer">
              <SelectField
                name="customerId"
                label={q ? `Customers that match “${q}”` : "Customer"}
                options={found.rows.map(({ id, name }) => ({ value: id, label: name }))}
                required
              />
              <JobFields />
              <Submit>Take it in</Submit>
            </Form>
          )}
          {found.pages > 1 ? (
            <p className="text-sm text-zinc">
              The first {found.rows.length} of {found.total} are listed; search for the others.
            </p>
          ) : null}
        </div>
      </Section>
      <Section title="Somebody new" id="new" plate>
        <Form action={takeInForNewCustomerAction} label="Job of a new customer">
          <CustomerFields />
          <JobFields />
          <Submit>Add the customer and take it in</Submit>
        </Form>
      </Section>
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
      <TextArea name="jobNotes" label="Notes" rows={2} />
    </>
  );
}
