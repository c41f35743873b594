import type { Actor } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import { formatDuration, formatWhen, type ShopSettings } from "@/lib/server";
import { type BoardProposal, proposeBoard, type ProposedChange } from "@/lib/services";
import { Form, Notice, Section, Submit, Table, TextLink } from "@/app/ui";
import { applyAction } from "./actions";

const HOUR_MS = 3_600_000;

type ProposalProps = {
  readonly actor: Actor;
  readonly wishes: { readonly withWaiting: boolean; readonly otherTanks: boolean };
  readonly shop: ShopSettings;
};

/** What was found, what it would move, and the button that does it. */
export async function Proposal({ actor, wishes, shop }: ProposalProps) {
  const found = await proposed(actor, wishes);
  if (typeof found === "string") return <Notice tone="oxide" title={found} />;
  const { changes, leftOver, apply } = found;
  return (
    <>
      <Section title="What was found" id="found">
        <Compared found={found} />
        {leftOver.length > 0 ? (
          <Notice tone="brass" title="These find no place in the next eight weeks">
            {leftOver.join("; ")}
          </Notice>
        ) : null}
      </Section>
      {changes.length === 0 ? (
        <Notice tone="bath" title="The board is as good as it can be made">
          {found.proven === "OPTIMAL"
            ? "It is proven that there is no better one."
            : `${found.tries} other boards were tried.`}
        </Notice>
      ) : (
        <Section title={`What would change (${changes.length})`} id="changes">
          <Changes found={found} shop={shop} />
          <Form action={applyAction} label="Change the board" className="mt-4 space-y-2">
            <input type="hidden" name="changes" value={JSON.stringify(apply)} />
            <p className="text-zinc">
              All of it or nothing: if somebody changed one of these runs meanwhile, the board stays
              as it is. Afterwards it can be taken back for a day.
            </p>
            <Submit>Change the board like this</Submit>
          </Form>
        </Section>
      )}
    </>
  );
}

async function proposed(
  actor: Actor,
  wishes: ProposalProps["wishes"],
): Promise<BoardProposal | string> {
  try {
    return await proposeBoard(actor, wishes, new Date());
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}

const hours = (value: number): string => formatDuration(value * HOUR_MS);

function Compared({ found: { before, after, bound, proven } }: { readonly found: BoardProposal }) {
  const rows = [
    {
      what: "Parts without a place",
      now: `${before.unplaced}`,
      then: `${after.unplaced}`,
      least: "0",
    },
    {
      what: "Late, rush jobs threefold",
      now: hours(before.weightedTardinessH),
      then: hours(after.weightedTardinessH),
      least: hours(bound.weightedTardinessH),
    },
    {
      what: "Last load finished in",
      now: hours(before.makespanH),
      then: hours(after.makespanH),
      least: hours(bound.makespanH),
    },
  ];
  return (
    <>
      <Table
        caption="The board now, as proposed, and what no board can be better than"
        rows={rows}
        rowKey={({ what }) => what}
        columns={[
          { head: "", cell: ({ what }) => what },
          { head: "Now", cell: ({ now }) => now, numeric: true },
          { head: "Proposed", cell: ({ then }) => then, numeric: true },
          { head: "No board is better than", cell: ({ least }) => least, numeric: true },
        ]}
      />
      {before.unplaced > 0 ? (
        <p className="mt-2 text-sm text-zinc">
          A part without a place counts as late until the end of the eight weeks that are planned.
        </p>
      ) : null}
      {proven === "OPTIMAL" ? (
        <p className="mt-2">Proven: there is no better board than the one proposed.</p>
      ) : null}
    </>
  );
}

const KIND = { MOVED: "moves", JOINED: "is joined", NEW: "is booked" } as const;

function Changes({ found, shop }: { readonly found: BoardProposal; readonly shop: ShopSettings }) {
  const { names, changes } = found;
  const place = ({
    tankId,
    startsAtMs,
  }: {
    readonly tankId: string;
    readonly startsAtMs: number;
  }) => `${names.tanks[tankId] ?? ""}, ${formatWhen(new Date(startsAtMs), shop)}`;
  const who = ({ kind, loadId, parts }: ProposedChange) => {
    const load = names.loads[loadId];
    const what = parts.map(({ label }) => label).join(", ");
    if (kind === "NEW" || !load) return what;
    return (
      <>
        <TextLink href={`/runs/${loadId}`}>Run {load.number}</TextLink> {load.what}
        {what ? `, with ${what}` : ""}
      </>
    );
  };
  return (
    <Table
      caption="Changes, by the new start"
      rows={changes}
      rowKey={({ loadId }) => loadId}
      columns={[
        { head: "Load", cell: who },
        { head: "What", cell: ({ kind }) => KIND[kind], wideOnly: true },
        { head: "Now", cell: ({ from }) => (from ? place(from) : "waits"), wideOnly: true },
        { head: "Then", cell: ({ to }) => place(to) },
      ]}
    />
  );
}
