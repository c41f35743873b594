import type { Metadata } from "next";
import { may } from "@/lib/access";
import { idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { customerById, jobList, taxChoices } from "@/lib/services";
import { Empty, Facts, LinkButton, Page, Section } from "@/app/ui";
import { JobTable } from "../../jobs/job-table";
import { changeCustomerAction } from "../actions";
import { CustomerForm } from "../customer-form";

export const metadata: Metadata = { title: "Customer" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ page?: string }>;
};

export default async function CustomerPage({ params, searchParams }: Props) {
  const actor = await requireActor();
  const id = idFrom((await params).id);
  const { page = "1" } = await searchParams;
  const shop = await shopSettings();
  const customer = await load(() => customerById(actor, id));
  const taxes = await taxChoices(actor, new Date());
  const jobs = await jobList(
    actor,
    { which: "all", search: "", page: Number(page), customerId: id },
    new Date(),
  );
  const takesIn = may(actor, "take-in");
  return (
    <Page
      title={customer.name}
      kicker="Customer"
      actions={
        takesIn ? (
          <LinkButton href={`/jobs/new?customer=${id}`} kind="main">
            Take in a job
          </LinkButton>
        ) : null
      }
    >
      <Facts
        facts={[
          { label: "E-mail", value: customer.email },
          { label: "Telephone", value: customer.phone },
          { label: "Address", value: customer.address },
          { label: "Notes", value: customer.notes },
        ]}
      />
      <Section title="Jobs" id="jobs">
        {jobs.rows.length === 0 ? (
          <Empty>No job yet.</Empty>
        ) : (
          <JobTable list={jobs} shop={shop} href={(to) => `/customers/${id}?page=${to}`} />
        )}
      </Section>
      {takesIn ? (
        <Section title="Change" id="change" plate>
          <CustomerForm action={changeCustomerAction} customer={customer} taxes={taxes} />
        </Section>
      ) : null}
    </Page>
  );
}
