import type { Metadata } from "next";
import { type Actor, may } from "@/lib/access";
import { idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { CHANGEABLE, fieldOfPart, jobOwes, partById, whatIf } from "@/lib/services";
import { mayGoIn } from "@/lib/treatment";
import { Badge, LinkButton, Notice, Page, TextLink } from "@/app/ui";
import { OwedNotice } from "../../jobs/[id]/owed-notice";
import { PART_STATE } from "../../words";
import { BakeNotice } from "./bake-notice";
import { FieldState } from "./field-state";
import { Leaving } from "./leaving";
import { OwnField } from "./own-field";
import { OwnShape } from "./own-shape";
import { PartFacts } from "./part-facts";
import { PartRuns } from "./part-runs";
import { Photos } from "./photos";
import { PlanSection } from "./plan-section";
import { VerdictSection } from "./verdict-section";
import { WhatIfSection } from "./what-if-section";

export const metadata: Metadata = { title: "Part" };

type Props = { readonly params: Promise<{ id: string }> };
type Part = Awaited<ReturnType<typeof partById>>;

export default async function PartPage({ params }: Props) {
  const actor = await requireActor();
  const id = idFrom((await params).id);
  const shop = await shopSettings();
  const [part, trying, field] = await load(() =>
    Promise.all([partById(actor, id), whatIf(actor, id), fieldOfPart(actor, id)]),
  );
  const owes = await load(() => jobOwes(actor, part.job.id, new Date()));
  const state = PART_STATE[part.state];
  const changeable = CHANGEABLE.includes(part.state) && part.job.state === "OPEN";
  const goesIn = part.verdict !== null && mayGoIn(part.verdict.outcome);
  return (
    <Page
      title={part.description}
      kicker={
        <>
          <TextLink href={`/jobs/${part.job.id}`}>Job {part.job.number}</TextLink>, part {part.mark}
          , {part.job.customer.name}
        </>
      }
      actions={<PartLinks part={part} actor={actor} changeable={changeable} />}
    >
      {state ? (
        <p>
          <Badge tone={state.tone}>{state.word}</Badge>
        </p>
      ) : null}
      <BakeNotice part={part} shop={shop} />
      <PartFacts part={part} units={shop.unitSystem} />
      <Photos part={part} mayAdd={may(actor, "take-in")} />
      <OwnShape
        part={part}
        shop={shop}
        mayAdd={may(actor, "take-in") && part.job.state === "OPEN" && part.state !== "HANDED_BACK"}
        changeable={changeable}
      />
      <VerdictSection part={part} actor={actor} shop={shop} changeable={changeable} />
      {goesIn ? (
        <PlanSection part={part} shop={shop} mayPlan={changeable && may(actor, "decide")} />
      ) : (
        <Notice tone="zinc" title="No plan: the verdict does not let this part into the bath." />
      )}
      {goesIn && part.plan ? (
        <FieldState
          part={part}
          field={field}
          mayAsk={may(actor, "decide")}
          plan={changeable && part.state === "PLANNED" ? part.plan.result : null}
        />
      ) : null}
      {goesIn && trying ? (
        <OwnField
          subject={trying.start}
          findings={field?.findings && !field.outdated ? field.findings : null}
          shapeAt={part.mesh ? `/parts/${part.id}/own-shape?of=${part.mesh.hash}` : null}
        />
      ) : null}
      {goesIn && trying ? <WhatIfSection {...trying} /> : null}
      <PartRuns part={part} shop={shop} />
      <OwedNotice jobId={part.job.id} owes={owes} customs={shop} />
      {may(actor, "take-in") && part.job.state === "OPEN" ? <Leaving part={part} /> : null}
    </Page>
  );
}

/** A part that waits for a tank, also with its one end booked and the other not. */
function mayBook({ state, plan, dips }: Part): boolean {
  if (state === "PLANNED") return true;
  if (state !== "BOOKED" && state !== "IN_BATH") return false;
  const taken = dips.filter(
    ({ result, run }) =>
      result === "CLEAN" ||
      result === "PARTLY" ||
      run.state === "PLANNED" ||
      run.state === "RUNNING",
  );
  return taken.length < (plan?.dipCount ?? 1);
}

type LinksProps = { readonly part: Part; readonly actor: Actor; readonly changeable: boolean };

function PartLinks({ part, actor, changeable }: LinksProps) {
  return (
    <>
      <LinkButton href={`/parts/${part.id}/tag`} download>
        Tag to print
      </LinkButton>
      {part.plan ? (
        <LinkButton href={`/parts/${part.id}/plan-sheet`} download>
          Plan for the bench
        </LinkButton>
      ) : null}
      {changeable && may(actor, "take-in") ? (
        <LinkButton href={`/parts/${part.id}/edit`}>Change</LinkButton>
      ) : null}
      {mayBook(part) ? (
        <LinkButton href={`/parts/${part.id}/when`}>When can it be ready?</LinkButton>
      ) : null}
      {mayBook(part) && may(actor, "book") ? (
        <LinkButton href={`/parts/${part.id}/book`} kind="main">
          {part.state === "PLANNED" ? "Book a tank" : "Book the other end"}
        </LinkButton>
      ) : null}
    </>
  );
}
