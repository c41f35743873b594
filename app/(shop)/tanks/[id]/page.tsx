import type { Metadata } from "next";
import Link from "next/link";
import { may } from "@/lib/access";
import { formatTime, formatWhen, idFrom, requireActor, shopSettings, load } from "@/lib/server";
import { seeCut, seeTank, type TankPage } from "@/lib/services";
import { formatMeasure, said } from "@/lib/units";
import { Badge, Empty, Facts, LinkButton, Notice, Page, Section, Table, TextLink } from "@/app/ui";
import { LiveMark } from "../../live/live-mark";
import { lengthWords, volumeWords } from "../../measures";
import { loadWords, RUN_STATE } from "../../words";
import { ChargeBar, contentsWords, pullWords, TankBadge, TankPicture } from "../tank-card";
import { WeekStrip } from "../week-strip";
import { AnodeSection } from "./anode-section";
import { BathSection } from "./bath-section";
import { UpkeepSection } from "./upkeep-section";

export const metadata: Metadata = { title: "Tank" };

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ cut?: string | string[] }>;
};

export default async function TankDetailPage({ params, searchParams }: Props) {
  const actor = await requireActor();
  const [{ id }, { cut: cutId }] = await Promise.all([params, searchParams]);
  const shop = await shopSettings();
  const now = new Date();
  const view = await load(() => seeTank(actor, id, now));
  const keeps = may(actor, "keep-tanks");
  const cut = typeof cutId === "string" ? await load(() => seeCut(actor, idFrom(cutId))) : null;
  return (
    <Page
      title={view.tank.name}
      kicker={<TextLink href="/tanks">Tanks</TextLink>}
      actions={
        may(actor, "set-up-tanks") ? (
          <LinkButton href={`/tanks/${id}/edit`}>Change</LinkButton>
        ) : null
      }
    >
      {view.tank.retiredAt ? <Notice tone="zinc" title="Out of use" /> : null}
      <div className="grid gap-6 md:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <div className="border-b-4 border-magnetite">
          <TankPicture view={view} className="mx-auto max-h-96 w-full" />
        </div>
        <Standing view={view} now={now} shop={shop} />
      </div>
      <BathSection view={view} shop={shop} keeps={keeps} />
      <AnodeSection view={view} shop={shop} keeps={keeps} cut={cut} />
      <LeaksLine view={view} />
      {view.tank.retiredAt ? null : (
        <UpkeepSection view={view} shop={shop} works={may(actor, "work-runs")} />
      )}
      <Section title="The next seven days" id="days">
        <WeekStrip strip={view.strip} rows={[view]} now={now} place={shop} />
        <p className="mt-3">
          <Link
            className="link inline-flex min-h-12 items-center"
            href={`/account?tank=${id}#calendars`}
          >
            Calendar address for this tank
          </Link>
        </p>
      </Section>
      <MeasuresAndLeads view={view} shop={shop} />
      <RecentRuns view={view} shop={shop} />
    </Page>
  );
}

type PartProps = { readonly view: TankPage; readonly shop: Shop };

function Standing({ view, now, shop }: PartProps & { readonly now: Date }) {
  const { running, next, lacks } = view;
  return (
    <div className="space-y-3">
      <LiveMark asOf={formatTime(now, shop)} />
      <p className="flex flex-wrap items-center gap-3">
        <TankBadge view={view} />
        <span>{contentsWords(view, shop.unitSystem)}</span>
      </p>
      {view.curingUntil ? (
        <Notice tone="brass" title={`A patch sets until ${formatWhen(view.curingUntil, shop)}`}>
          Until then neither bath nor load goes in.
        </Notice>
      ) : null}
      {lacks.length > 0 ? <p>Before a load can go in it needs work: {lacks.join(", ")}.</p> : null}
      {running ? (
        <>
          <p className="text-lg font-semibold">
            <TextLink href={`/runs/${running.run.id}`}>{pullWords(running, now, shop)}</TextLink>
          </p>
          <ChargeBar
            share={running.progress.share}
            charge={running.progress.charge.value}
            target={running.progress.targetAh}
          />
          {running.progress.findings.map((finding) => (
            <Notice
              key={finding.code}
              tone={finding.severity === "look now" ? "oxide" : "brass"}
              title={finding.title}
            >
              {said(`${finding.seen} ${finding.nextCheck}`, shop.unitSystem)}
            </Notice>
          ))}
        </>
      ) : null}
      {view.pulled.map((run) => (
        <p key={run.id}>
          <TextLink href={`/runs/${run.id}`}>Finish {loadWords(run)}</TextLink>
        </p>
      ))}
      {next ? (
        <p>
          Next: <TextLink href={`/runs/${next.id}`}>{loadWords(next)}</TextLink>,{" "}
          {formatWhen(next.startsAt, shop)}
        </p>
      ) : null}
    </div>
  );
}

function LeaksLine({ view: { tank, leaks } }: Pick<PartProps, "view">) {
  const { open, patched } = leaks;
  const words =
    open + patched === 0
      ? "No leak is known."
      : `${open} open ${open === 1 ? "leak" : "leaks"}, ${patched} patched and not closed yet.`;
  return (
    <Section title="Leaks" id="leaks">
      <p>
        {words} <TextLink href={`/tanks/${tank.id}/leaks`}>Leaks and patches</TextLink>
      </p>
    </Section>
  );
}

const KIND_WORDS = {
  TAPERED_BOX: "tub or trough",
  ROUND: "barrel or bucket",
  MEASURED: "measured by the bucket",
} as const;

function MeasuresAndLeads({ view: { tank }, shop }: PartProps) {
  const long = (mm: number): string => lengthWords(mm, shop.unitSystem);
  const round = tank.kind === "ROUND";
  return (
    <Section title="Measures, supply and leads" id="measures" plate>
      <Facts
        facts={[
          { label: "Shape", value: KIND_WORDS[tank.kind] },
          {
            label: "At the rim",
            value: round
              ? `${long(tank.topLengthMm)} across`
              : `${long(tank.topLengthMm)} × ${long(tank.topWidthMm)}`,
          },
          {
            label: "At the floor",
            value: round
              ? `${long(tank.bottomLengthMm)} across`
              : `${long(tank.bottomLengthMm)} × ${long(tank.bottomWidthMm)}`,
          },
          { label: "Depth", value: long(tank.depthMm) },
          { label: "Working level", value: long(tank.workingLevelMm) },
          { label: "Kept free", value: long(tank.clearanceMm) },
          {
            label: "Supply",
            value: tank.supply ? (
              <TextLink href={`/supplies/${tank.supply.id}`}>{tank.supply.name}</TextLink>
            ) : (
              "none"
            ),
          },
          {
            label: "Leads",
            value: `${formatMeasure("distance", tank.leadLengthM, shop.unitSystem)} each of ${formatMeasure("section", tank.leadAreaMm2, shop.unitSystem)} copper`,
          },
          { label: "Contacts", value: `${tank.contactOhm} Ω` },
          { label: "Stands", value: tank.place },
          { label: "Notes", value: tank.notes },
        ]}
      />
    </Section>
  );
}

function RecentRuns({ view: { recentRuns, baths }, shop }: PartProps) {
  const past = baths.filter(({ disposedAt }) => disposedAt !== null);
  return (
    <>
      <Section title="Runs" id="runs">
        {recentRuns.length === 0 ? (
          <Empty>Nothing has been in this tank yet.</Empty>
        ) : (
          <Table
            caption="Runs in this tank, newest first"
            rows={recentRuns}
            rowKey={({ id }) => id}
            columns={[
              {
                head: "Run",
                cell: (run) => (
                  <TextLink href={`/runs/${run.id}`}>
                    {run.number}, {loadWords(run)}
                  </TextLink>
                ),
              },
              { head: "From", cell: (run) => formatWhen(run.startsAt, shop) },
              {
                head: "Charge",
                numeric: true,
                wideOnly: true,
                cell: (run) => (run.chargeAh === null ? "" : `${run.chargeAh.toFixed(1)} A·h`),
              },
              {
                head: "State",
                cell: ({ state }) => (
                  <Badge tone={RUN_STATE[state]?.tone ?? "zinc"}>{RUN_STATE[state]?.word}</Badge>
                ),
              },
            ]}
          />
        )}
      </Section>
      {past.length > 0 ? (
        <Section title="Earlier baths" id="baths">
          <Table
            caption="Baths that were disposed of"
            rows={past}
            rowKey={({ id }) => id}
            columns={[
              { head: "Mixed", cell: (bath) => formatWhen(bath.mixedAt, shop) },
              {
                head: "Disposed of",
                cell: (bath) => (bath.disposedAt ? formatWhen(bath.disposedAt, shop) : ""),
              },
              {
                head: "Amount",
                numeric: true,
                cell: (bath) => volumeWords(bath.volumeL, shop.unitSystem),
              },
              {
                head: "Charge",
                numeric: true,
                wideOnly: true,
                cell: (bath) => `${bath.chargeAh.toFixed(0)} A·h`,
              },
              { head: "Where it went", wideOnly: true, cell: (bath) => bath.disposalNote },
            ]}
          />
        </Section>
      ) : null}
    </>
  );
}
