import { formatWhen } from "@/lib/server";
import type { partById } from "@/lib/services";
import { Badge, Empty, Section, Table, TextLink } from "@/app/ui";
import { DIP_RESULT, RUN_STATE } from "../../words";

type Props = {
  readonly part: Awaited<ReturnType<typeof partById>>;
  readonly shop: { readonly timeZone: string; readonly locale: string };
};
type Dip = Props["part"]["dips"][number];

/** Every run that a part was or will be in, the latest first. */
export function PartRuns({ part, shop }: Props) {
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
            { head: "State", cell: ({ run }) => <RunWord state={run.state} /> },
            { head: "Result", cell: (dip) => <Result dip={dip} /> },
          ]}
        />
      )}
    </Section>
  );
}

function RunWord({ state }: { readonly state: string }) {
  const word = RUN_STATE[state];
  return word ? <Badge tone={word.tone}>{word.word}</Badge> : null;
}

function Result({ dip }: { readonly dip: Dip }) {
  const word = DIP_RESULT[dip.result ?? ""];
  return (
    <>
      {word ? <Badge tone={word.tone}>{word.word}</Badge> : null} {dip.resultNote}
    </>
  );
}
