import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatMoney, money } from "@/lib/money";
import { formatDay, formatWhen, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { jobById, jobOwes } from "@/lib/services";
import {
  Badge,
  CheckField,
  Confirm,
  Empty,
  Facts,
  Form,
  LinkButton,
  Page,
  Section,
  Submit,
  TextArea,
  TextField,
  TextLink,
} from "@/app/ui";
import { JOB_STATE, QUOTE_STATE } from "../../words";
import { cancelJobAction, changeJobAction, closeJobAction, reopenJobAction } from "../actions";
import { OwedNotice } from "./owed-notice";
import { PartCard } from "./part-card";

export const metadata: Metadata = { title: "Job" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function JobPage({ params }: Props) {
  const actor = await requireActor();
  const id = idFrom((await params).id);
  const shop = await shopSettings();
  const [job, owes] = await load(() =>
    Promise.all([jobById(actor, id), jobOwes(actor, id, new Date())]),
  );
  const takesIn = may(actor, "take-in");
  const open = job.state === "OPEN";
  const state = JOB_STATE[job.state];
  const quote = job.quote && QUOTE_STATE[job.quote.state];
  return (
    <Page
      title={`Job ${job.number}`}
      kicker={<TextLink href={`/customers/${job.customer.id}`}>{job.customer.name}</TextLink>}
      actions={
        <>
          {may(actor, "quote") ? <LinkButton href={`/jobs/${id}/quote`}>Quote</LinkButton> : null}
          {may(actor, "see-money") ? <LinkButton href={`/jobs/${id}/cost`}>Cost</LinkButton> : null}
          {may(actor, "see-money") ? (
            <LinkButton href={`/jobs/${id}/money`}>Money</LinkButton>
          ) : null}
          {job.parts.length > 0 ? (
            <LinkButton href={`/jobs/${id}/tags`} download>
              Tags to print
            </LinkButton>
          ) : null}
        </>
      }
    >
      <OwedNotice jobId={id} owes={owes} customs={shop} />
      <Facts
        facts={[
          { label: "State", value: state ? <Badge tone={state.tone}>{state.word}</Badge> : null },
          {
            label: "Promised for",
            value: (
              <>
                {job.promisedFor ? formatDay(job.promisedFor, shop) : "not yet"}
                {job.rush ? <Badge tone="brass">rush</Badge> : null}
              </>
            ),
          },
          {
            label: "Taken in",
            value: `${formatWhen(job.takenInAt, shop)}, ${job.takenInBy.name}`,
          },
          {
            label: "Quote",
            value:
              job.quote && quote ? (
                <>
                  <Badge tone={quote.tone}>{quote.word}</Badge>{" "}
                  {may(actor, "see-money")
                    ? formatMoney(money(job.quote.totalMinor, job.quote.currency), shop.locale)
                    : null}
                </>
              ) : (
                "none yet"
              ),
          },
          {
            label: "Telephone",
            value: job.customer.phone ? (
              <a href={`tel:${job.customer.phone}`} className="underline underline-offset-3">
                {job.customer.phone}
              </a>
            ) : null,
          },
          { label: "Notes", value: job.notes },
        ]}
      />
      <Section
        title="Parts"
        id="parts"
        actions={
          takesIn && open ? (
            <LinkButton href={`/jobs/${id}/parts/new`}>Add a part</LinkButton>
          ) : null
        }
      >
        {job.parts.length === 0 ? (
          <Empty>No part yet. Add what the customer brought.</Empty>
        ) : (
          <ul className="grid gap-4 md:grid-cols-2">
            {job.parts.map((part) => (
              <PartCard key={part.id} part={part} />
            ))}
          </ul>
        )}
      </Section>
      {takesIn ? <JobActions job={job} open={open} /> : null}
    </Page>
  );
}

type ActionsProps = {
  readonly job: {
    readonly id: string;
    readonly promisedFor: Date | null;
    readonly rush: boolean;
    readonly notes: string;
  };
  readonly open: boolean;
};

function JobActions({ job, open }: ActionsProps) {
  const which = <input type="hidden" name="id" value={job.id} />;
  if (!open) {
    return (
      <Form action={reopenJobAction} label="Take this job up again">
        {which}
        <p className="max-w-prose text-zinc">
          Its parts stay handed back. Each that is here again is taken up on its own page.
        </p>
        <Submit kind="plain">Take it up again</Submit>
      </Form>
    );
  }
  return (
    <Section title="What was agreed" id="agreed" plate>
      <div className="grid gap-6 md:grid-cols-2">
        <Form action={changeJobAction} label="Promise and notes">
          {which}
          <TextField
            name="promisedFor"
            label="Promised for"
            type="date"
            defaultValue={job.promisedFor?.toISOString().slice(0, 10) ?? ""}
          />
          <CheckField name="rush" label="Rush: goes before others" defaultChecked={job.rush} />
          <TextArea name="jobNotes" label="Notes" defaultValue={job.notes} />
          <Submit kind="plain">Save</Submit>
        </Form>
        <div className="space-y-4">
          <Confirm
            label="Hand everything back and close"
            question="All its parts are marked as handed back, finished or not, and the job is closed. It can be taken up again."
            action={closeJobAction}
            confirm="Hand back and close"
          >
            {which}
          </Confirm>
          <Confirm
            label="Cancel this job"
            question="Nothing more will be done for it; its parts go back as they are. It can be taken up again."
            action={cancelJobAction}
            confirm="Cancel the job"
          >
            {which}
          </Confirm>
        </div>
      </div>
    </Section>
  );
}
