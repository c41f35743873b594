import type { Metadata } from "next";
import { may } from "@/lib/access";
import { environment, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { type JobQuotes, jobQuotes } from "@/lib/services";
import { Empty, LinkButton, Notice, Page, Section, TextLink } from "@/app/ui";
import { DraftForm } from "./draft-form";
import { History } from "./history";
import { Mails } from "./mails";
import { QuoteSheet } from "./quote-sheet";
import { eventText } from "./words";

export const metadata: Metadata = { title: "Quote" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function QuotePage({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const jobId = idFrom((await params).id);
  const view = await load(() => jobQuotes(actor, jobId, new Date()));
  const { job, quotes, toQuote, events } = view;
  const writes = may(actor, "quote");
  const { mailIsSetUp } = environment();
  return (
    <Page
      title={`Quote for job ${job.number}`}
      kicker={
        <>
          <TextLink href={`/jobs/${job.id}`}>Job {job.number}</TextLink>, {job.customer.name}
        </>
      }
      actions={<LinkButton href={`/jobs/${job.id}/cost`}>Cost against quote</LinkButton>}
    >
      <LookAtBookings view={view} />
      <LeftOut view={view} />
      {quotes.map((quote) => (
        <QuoteSheet
          key={quote.id}
          quote={quote}
          jobId={job.id}
          shop={shop}
          writes={writes}
          addresses={view.addresses}
          mailIsSetUp={mailIsSetUp}
        />
      ))}
      {writes && toQuote.length > 0 ? <DraftForm view={view} /> : null}
      {quotes.length === 0 && toQuote.length === 0 ? (
        <Empty action={<LinkButton href={`/jobs/${job.id}`}>Open the job</LinkButton>}>
          No part of this job has a plan yet. Plan a part first: the price comes from its plan.
        </Empty>
      ) : null}
      {view.mails.length > 0 ? (
        <Section title="Mail" id="mail">
          <Mails mails={view.mails} shop={shop} />
        </Section>
      ) : null}
      {events.length > 0 ? (
        <Section title="What happened" id="history">
          <History events={events} shop={shop} />
        </Section>
      ) : null}
    </Page>
  );
}

/** Parts that no price covers, said before anybody sends it. */
function LeftOut({ view }: { readonly view: JobQuotes }) {
  if (view.unplanned.length === 0 || view.job.state !== "OPEN") return null;
  const names = view.unplanned.map(({ mark, description }) => `${mark}, ${description}`).join("; ");
  return (
    <Notice tone="brass" title="Not in the price">
      {names}: no plan yet. Plan {view.unplanned.length === 1 ? "it" : "them"}, then price the job
      again.
    </Notice>
  );
}

/** Bookings made before the customer chose something else: said until no such part is booked any more. */
function LookAtBookings({ view }: { readonly view: JobQuotes }) {
  const marks = new Set(
    view.events
      .filter(({ action }) => action === "quote.taken-on")
      .flatMap((event) => eventText(event, "booked").split(", ")),
  );
  const booked = view.job.parts.filter(({ mark, state }) => state === "BOOKED" && marks.has(mark));
  if (booked.length === 0) return null;
  return (
    <Notice tone="brass" title="Look at these bookings">
      {booked.map(({ mark, description }) => `${mark}, ${description}`).join("; ")}: the customer
      chose something else to be done, so the plan is new and the booking rests on the one before.
      See to it on <TextLink href="/board">the board</TextLink>.
    </Notice>
  );
}
