import type { Metadata } from "next";
import { idFrom, load, requireActor } from "@/lib/server";
import { jobMoney } from "@/lib/services";
import { Figure, Figures, LinkButton, moneyText, Page, Section, TextLink } from "@/app/ui";
import { CreditForm } from "./credit-form";
import { Documents } from "./documents";
import { PaymentForm } from "./payment-form";
import { Payments } from "./payments";
import { Standing } from "./standing";
import { StatementForm } from "./statement-form";

export const metadata: Metadata = { title: "Job money" };

type Props = { readonly params: Promise<{ id: string }> };

/** What was asked, charged, credited and paid for one job, and what is still owed. */
export default async function JobMoneyPage({ params }: Props) {
  const actor = await requireActor();
  const jobId = idFrom((await params).id);
  const view = await load(() => jobMoney(actor, jobId, new Date()));
  const { job, balance, shop, mayBill, open } = view;
  const owed = balance.balanceMinor;
  return (
    <Page
      title={`Money of job ${job.number}`}
      kicker={
        <>
          <TextLink href={`/jobs/${job.id}`}>Job {job.number}</TextLink>, {job.customer.name}
        </>
      }
      actions={
        <>
          <LinkButton href={`/jobs/${job.id}/cost`}>Cost</LinkButton>
          <LinkButton href="/money">Who owes what</LinkButton>
        </>
      }
    >
      <Standing view={view} />
      <Figures>
        <Figure
          worked={balance.worked}
          shown={moneyText(Math.abs(owed), shop)}
          label={owed < 0 ? "Held for the customer" : owed > 0 ? "Still owed" : "Balance"}
        />
      </Figures>
      <Section title="Statements and credit notes" id="documents">
        <Documents view={view} />
      </Section>
      {mayBill && !open ? <StatementForm view={view} /> : null}
      {mayBill && open ? <CreditForm view={view} open={open} /> : null}
      <Section title="Payments" id="payments">
        <Payments view={view} />
      </Section>
      {mayBill ? <PaymentForm view={view} now={new Date()} /> : null}
    </Page>
  );
}
