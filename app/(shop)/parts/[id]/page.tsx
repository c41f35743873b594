import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatWhen, requireActor, shopSettings, withNotFound } from "@/lib/server";
import { CHANGEABLE, partById } from "@/lib/services";
import {
  COATING_NAMES,
  GOAL_NAMES,
  HAZARD_NAMES,
  MATERIAL_NAMES,
  mayGoIn,
  PART_SHAPE_NAMES,
  RUST_GRADE_WORDS,
} from "@/lib/treatment";
import { Badge, Empty, Facts, LinkButton, Notice, Page, Section, Table, TextLink } from "@/app/ui";
import { massWords, sizeWords, type UnitSystem } from "../../measures";
import { PART_STATE } from "../../words";
import { Photos } from "./photos";
import { PlanSection } from "./plan-section";
import { VerdictSection } from "./verdict-section";

export const metadata: Metadata = { title: "Part" };

type Props = { readonly params: Promise<{ id: string }> };
type Part = Awaited<ReturnType<typeof partById>>;

export default async function PartPage({ params }: Props) {
  const actor = await requireActor();
  const { id } = await params;
  const shop = await shopSettings();
  const part = await withNotFound(() => partById(actor, id));
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
      actions={
        <>
          {changeable && may(actor, "take-in") ? (
            <LinkButton href={`/parts/${id}/edit`}>Change</LinkButton>
          ) : null}
          {part.state === "PLANNED" && may(actor, "book") ? (
            <LinkButton href={`/parts/${id}/book`} kind="main">
              Book a tank
            </LinkButton>
          ) : null}
        </>
      }
    >
      {state ? (
        <p>
          <Badge tone={state.tone}>{state.word}</Badge>
        </p>
      ) : null}
      <PartFacts part={part} units={shop.unitSystem} />
      <VerdictSection part={part} actor={actor} shop={shop} changeable={changeable} />
      {goesIn ? (
        <PlanSection part={part} shop={shop} mayPlan={changeable && may(actor, "decide")} />
      ) : (
        <Notice tone="zinc" title="No plan: the verdict does not let this part into the bath." />
      )}
      <PartRuns part={part} shop={shop} />
      <Photos part={part} mayAdd={may(actor, "take-in")} />
    </Page>
  );
}

function PartFacts({ part, units }: { readonly part: Part; readonly units: UnitSystem }) {
  const names = <Code extends string>(
    codes: readonly Code[],
    words: Readonly<Record<Code, string>>,
  ): string => codes.map((code) => words[code]).join(", ");
  return (
    <Facts
      facts={[
        { label: "Pieces", value: part.quantity },
        { label: "Shape", value: PART_SHAPE_NAMES[part.shape] },
        { label: "Size", value: sizeWords([part.lengthMm, part.widthMm, part.heightMm], units) },
        { label: "Wall", value: part.wallMm === null ? null : sizeWords([part.wallMm], units) },
        { label: "Mass", value: part.massG === null ? null : massWords(part.massG, units) },
        { label: "Made of", value: MATERIAL_NAMES[part.material] },
        {
          label: "Hardness",
          value: part.hardnessHrc === null ? null : `${part.hardnessHrc} HRC`,
        },
        {
          label: "Tensile strength",
          value: part.tensileMpa === null ? null : `${part.tensileMpa} MPa`,
        },
        { label: "Rust", value: `${part.rustGrade}: ${RUST_GRADE_WORDS[part.rustGrade]}` },
        { label: "On it", value: names(part.coatings, COATING_NAMES) },
        { label: "To be careful of", value: names(part.hazards, HAZARD_NAMES) },
        { label: "Wanted", value: GOAL_NAMES[part.goal] },
        { label: "Notes", value: part.notes },
      ]}
    />
  );
}

type RunsProps = {
  readonly part: Part;
  readonly shop: { readonly timeZone: string; readonly locale: string };
};

function PartRuns({ part, shop }: RunsProps) {
  return (
    <Section title="In the tanks" id="runs">
      {part.dips.length === 0 ? (
        <Empty>Not booked yet.</Empty>
      ) : (
        <Table
          caption="Runs of this part"
          rows={part.dips}
          rowKey={(dip) => dip.run.id}
          columns={[
            {
              head: "Run",
              cell: ({ run }) => <TextLink href={`/runs/${run.id}`}>Run {run.number}</TextLink>,
            },
            { head: "Tank", cell: ({ run }) => run.tank.name },
            { head: "From", cell: ({ run }) => formatWhen(run.startsAt, shop) },
            { head: "Until", cell: ({ run }) => formatWhen(run.endsAt, shop), wideOnly: true },
            { head: "State", cell: ({ run }) => run.state.toLowerCase() },
            {
              head: "Result",
              cell: ({ result, resultNote }) =>
                [result?.toLowerCase(), resultNote].filter(Boolean).join(": "),
            },
          ]}
        />
      )}
    </Section>
  );
}
