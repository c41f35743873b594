import type { Metadata } from "next";
import {
  formatNumber,
  Figure,
  Figures,
  LinkButton,
  moneyText,
  Notice,
  Page,
  Section,
  signedMoneyText,
  TextLink,
} from "@/app/ui";
import { LINE_KIND_WORDS } from "@/lib/pricing";
import { formatTime, idFrom, load, requireActor } from "@/lib/server";
import { type JobCostView, jobCostView } from "@/lib/services";
import { LiveMark } from "../../../live/live-mark";
import { LabourForm } from "../labour/labour-form";
import { Behind } from "./behind";
import { Causes } from "./causes";
import { CostLines } from "./cost-lines";

export const metadata: Metadata = { title: "Job cost" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function JobCostPage({ params }: Props) {
  const actor = await requireActor();
  const jobId = idFrom((await params).id);
  const now = new Date();
  const view = await load(() => jobCostView(actor, jobId, now));
  const { job, cost, shop } = view;
  return (
    <Page
      title={`What job ${job.number} took`}
      kicker={
        <>
          <TextLink href={`/jobs/${job.id}`}>Job {job.number}</TextLink>, {job.customerName}
        </>
      }
      actions={
        <>
          <LinkButton href={`/jobs/${job.id}/quote`}>Quote</LinkButton>
          <LinkButton href={`/jobs/${job.id}/money`}>Money</LinkButton>
        </>
      }
    >
      <StateWords view={view} />
      {view.settled ? null : <LiveMark asOf={formatTime(now, shop)} />}
      <Figures>
        <Figure
          worked={cost.cost}
          shown={moneyText(cost.actualMinor, shop)}
          label={view.settled ? "It took" : "It took so far"}
        />
        {cost.margin && cost.marginMinor !== null ? (
          <Figure
            worked={cost.margin}
            shown={`${signedMoneyText(cost.marginMinor, shop)}${percent(cost.marginPercent)}`}
            label={view.settled ? "Left for the shop" : "Left for the shop, so far"}
          />
        ) : null}
      </Figures>
      <Section title="Line by line" id="lines">
        <CostLines cost={cost} customs={shop} settled={view.settled} />
        <details className="plate mt-3">
          <summary className="flex min-h-12 items-center px-4 font-medium">
            The working of each line
          </summary>
          <div className="border-t border-line p-4">
            <Figures>
              {cost.lines.map(({ kind, actualMinor, worked }) => (
                <Figure
                  key={kind}
                  worked={worked}
                  shown={moneyText(actualMinor, shop)}
                  label={LINE_KIND_WORDS[kind]}
                />
              ))}
            </Figures>
          </div>
        </details>
      </Section>
      {view.causes.length > 0 ? (
        <Section title="What made the difference" id="causes">
          <p className="mb-3 max-w-prose">
            What was taken beyond the plan counts at the price of the plan, and what was taken
            counts at the difference of the prices: (Aq − Sq) · Sp + (Ap − Sp) · Aq, with A as it
            was and S as estimated. So each line adds up.
          </p>
          <Causes causes={view.causes} customs={shop} />
        </Section>
      ) : null}
      <Behind view={view} />
      <Section title="More minutes" id="labour">
        <p className="mb-3">
          Loading, pulling and finishing write their minutes down by themselves.
        </p>
        <LabourForm jobId={job.id} parts={job.parts} />
      </Section>
    </Page>
  );
}

const percent = (value: number | null): string =>
  value === null ? "" : ` (${value < 0 ? "−" : ""}${formatNumber(Math.abs(value))} % of the price)`;

function StateWords({ view }: { readonly view: JobCostView }) {
  const { cost, estimate, quotes, settled, charged, shop } = view;
  const names = quotes
    .map(
      ({ number, version, option }) =>
        `quote ${number}, version ${version}${option ? `, “${option}”` : ""}`,
    )
    .join(" and ");
  if (estimate === "none") {
    return (
      <Notice tone="zinc" title="No quote to compare with">
        This is what the shop wrote down for the job.
      </Notice>
    );
  }
  if (estimate === "not accepted") {
    return (
      <Notice tone="zinc" title="Not accepted yet">
        Compared with {names}, which the customer has not accepted: there is no price to earn yet.
      </Notice>
    );
  }
  return (
    <p>
      Compared with {names}
      {charged ? ". Charged, credits taken off: " : ", accepted for "}
      {moneyText(cost.quotedNetMinor ?? 0, shop)} before tax.{" "}
      {settled
        ? "The work is done."
        : "The work goes on: loads in a bath count by their plan up to now."}
    </p>
  );
}
