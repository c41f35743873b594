import type { Actor } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import type { SimulatedJob, SimulatedResource } from "@/lib/scheduling";
import { formatDay, formatDuration, formatWhen, type ShopSettings } from "@/lib/server";
import { type LookAhead, lookAhead, type WeeksAhead } from "@/lib/services";
import { Bar, Empty, Facts, LinkButton, Notice, Section, Table, TextLink } from "@/app/ui";
import { bottleneckWords, differenceWords, percent, percentBand, resourceName } from "./words";

const HOUR_MS = 3_600_000;
/** Jobs that are all but sure need no line each. */
const MOST_JOBS = 30;

type PlayedProps = {
  readonly actor: Actor;
  readonly look: LookAhead;
  readonly shop: ShopSettings;
};

/** What came of the weeks. */
export async function Played({ actor, look, shop }: PlayedProps) {
  const played = await playedOr(actor, look);
  if (typeof played === "string") return <Notice tone="oxide" title={played} />;
  const { asItIs, weeklyRate, loads, names } = played;
  if (loads === 0 && weeklyRate === 0) {
    return (
      <Empty action={<LinkButton href="/board">Board</LinkButton>}>
        Nothing is booked in these weeks, and no jobs are reckoned with.
      </Empty>
    );
  }
  return (
    <>
      <p className="max-w-prose">
        {loads} booked loads{weeklyRate > 0 ? ` and ${weeklyRate.toFixed(1)} new parts a week` : ""}
        , played {asItIs.times} times until {formatWhen(new Date(played.untilMs), shop)}, each load
        with hours of its own between half and nine in ten of such loads.
      </p>
      <Kept played={played} />
      <p className="max-w-prose font-semibold">{bottleneckWords(asItIs.bottleneck, names)}</p>
      <WhatIf played={played} />
      <Section title="How full" id="full">
        <Resources resources={asItIs.resources} played={played} />
      </Section>
      <Section title="Promises, the riskiest first" id="promises">
        <Jobs played={played} shop={shop} />
      </Section>
    </>
  );
}

async function playedOr(actor: Actor, look: LookAhead): Promise<WeeksAhead | string> {
  try {
    return await lookAhead(actor, look, new Date());
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}

const hours = (value: number): string => formatDuration(value * HOUR_MS);

function Kept({ played: { asItIs } }: { readonly played: WeeksAhead }) {
  const { kept, delayHours, arrivals } = asItIs;
  return (
    <div className="plate p-4">
      <Facts
        facts={[
          { label: "Promises kept", value: kept ? percentBand(kept) : "nothing is promised" },
          {
            label: "Waiting beyond the booking",
            value: `${hours(delayHours.mean)} over all loads`,
          },
          {
            label: "Promises to new jobs kept",
            value: arrivals?.kept ? percent(arrivals.kept.share) : null,
          },
          {
            label: "New jobs wait until they go in",
            value: typeof arrivals?.waitHours === "number" ? hours(arrivals.waitHours) : null,
          },
          {
            label: "New jobs found no slot",
            value: arrivals && arrivals.withoutSlot > 0 ? arrivals.withoutSlot.toFixed(1) : null,
          },
        ]}
      />
    </div>
  );
}

function WhatIf({ played: { whatIf } }: { readonly played: WeeksAhead }) {
  if (!whatIf) return null;
  const points = (value: number): string => `${(100 * value).toFixed(1)} points`;
  return (
    <Notice tone="bath" title="With that">
      <p>
        Promises kept:{" "}
        {whatIf.kept
          ? differenceWords(whatIf.kept, points, { more: "more", less: "fewer" })
          : "nothing is promised"}
        .
      </p>
      <p>
        Waiting beyond the booking:{" "}
        {differenceWords(whatIf.delayHours, hours, { more: "more", less: "less" })}.
      </p>
    </Notice>
  );
}

type ResourcesProps = {
  readonly resources: readonly SimulatedResource[];
  readonly played: WeeksAhead;
};

function Resources({ resources, played: { names } }: ResourcesProps) {
  const rows = resources.filter(({ kind }) => kind !== "OPENINGS");
  return (
    <Table
      caption="Tanks and supplies by the clock, hands by the open hours"
      rows={rows}
      rowKey={({ kind, id }) => `${kind} ${id}`}
      columns={[
        { head: "What", cell: (one) => resourceName(one, names) },
        { head: "In use", cell: ({ used }) => percent(used), numeric: true },
        { head: "", cell: ({ used }) => <Bar share={used} /> },
        {
          head: "Waited for it",
          cell: ({ waitedHours }) => hours(waitedHours),
          numeric: true,
          wideOnly: true,
        },
      ]}
    />
  );
}

function Jobs({
  played: { asItIs, names },
  shop,
}: {
  readonly played: WeeksAhead;
  readonly shop: ShopSettings;
}) {
  const promised = asItIs.jobs
    .filter(({ kept }) => kept !== null)
    .sort((a, b) => (a.kept?.share ?? 1) - (b.kept?.share ?? 1));
  if (promised.length === 0) return <Empty>No job with a promise is booked in these weeks.</Empty>;
  const day = ({ jobId }: SimulatedJob): string => {
    const promisedFor = names.jobs[jobId]?.promisedFor;
    return promisedFor ? formatDay(new Date(`${promisedFor}T00:00:00Z`), shop) : "";
  };
  const when = (atMs: number | null): string =>
    atMs === null ? "later" : formatWhen(new Date(atMs), shop);
  return (
    <>
      <Table
        caption="Jobs"
        rows={promised.slice(0, MOST_JOBS)}
        rowKey={({ jobId }) => jobId}
        columns={[
          {
            head: "Job",
            cell: ({ jobId }) => (
              <TextLink href={`/jobs/${jobId}`}>#{names.jobs[jobId]?.number}</TextLink>
            ),
          },
          { head: "Promised", cell: day },
          { head: "Kept", cell: ({ kept }) => (kept ? percent(kept.share) : ""), numeric: true },
          { head: "Half the time by", cell: ({ p50Ms }) => when(p50Ms), wideOnly: true },
          { head: "Nine in ten by", cell: ({ p90Ms }) => when(p90Ms), wideOnly: true },
        ]}
      />
      {promised.length > MOST_JOBS ? (
        <p className="text-zinc">
          {promised.length - MOST_JOBS} more, all kept at least as often as the last of these.
        </p>
      ) : null}
    </>
  );
}
