import type { Metadata } from "next";
import {
  formatDate,
  formatDay,
  idFrom,
  load,
  pageWindow,
  requireActor,
  shopSettings,
} from "@/lib/server";
import { type AnodePage, anodePage, WEAR_WEEKS } from "@/lib/services";
import { formatMeasure, shownUnit } from "@/lib/units";
import {
  Bar,
  type Column,
  ColumnChart,
  Empty,
  Facts,
  Figure,
  Figures,
  formatNumber,
  moneyText,
  Page,
  Pager,
  Section,
  Table,
  TextLink,
} from "@/app/ui";
import { replaceWords } from "../../replace-words";

export const metadata: Metadata = { title: "Anode wear" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ page?: string | string[] }>;
};

type Shop = Awaited<ReturnType<typeof shopSettings>>;

/** One anode: what it lost, week by week and run by run, and when it is due. */
export default async function AnodePageScreen({ params, searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const id = idFrom((await params).id);
  const window = pageWindow((await searchParams).page);
  const view = await load(() => anodePage(actor, id, window, new Date()));
  const { anode, life, lostG, lostShare } = view;
  const mass = (g: number): string => formatMeasure("steelMass", g, shop.unitSystem);
  const heaviest = Math.max(0, ...view.weeks.map(({ lossG }) => lossG));
  const weekly = shownUnit("steelMass", heaviest, shop.unitSystem);
  const { day, range } = replaceWords(view, (date) => formatDay(date, shop));
  return (
    <Page
      title={`${anode.name} in ${anode.tankName}`}
      kicker={<TextLink href="/figures#anodes">Figures</TextLink>}
    >
      <div className="max-w-md space-y-2">
        <p className="text-lg">
          Replace by <strong>{day}</strong>
          {range ? <span className="block text-base text-zinc">{range}</span> : null}
        </p>
        <Bar share={lostShare} mark={anode.replaceAtShare} />
        <p className="text-zinc">
          {mass(lostG)} of {mass(anode.initialMassG)} lost; it is due at{" "}
          {Math.round(anode.replaceAtShare * 100)} %.
        </p>
      </div>
      {life ? (
        <Figures>
          <Figure worked={life} />
        </Figures>
      ) : null}
      <Facts
        facts={[
          {
            label: "Tank",
            value: <TextLink href={`/tanks/${anode.tankId}`}>{anode.tankName}</TextLink>,
          },
          { label: "Hung", value: formatDate(anode.installedAt, shop) },
          { label: "Charge so far", value: `${formatNumber(anode.chargeAh)} A·h` },
          {
            label: "Last weighed",
            value: anode.lastWeighing
              ? `${formatDate(anode.lastWeighing.at, shop)}: ${mass(anode.lastWeighing.massG)}`
              : "never: weigh it to narrow the date",
          },
          {
            label: "Share of the charge that takes iron",
            value: `${formatNumber(anode.lossFactor)} ± ${formatNumber(anode.lossFactorError)}`,
          },
        ]}
      />
      <Section title={`The last ${WEAR_WEEKS} weeks`} id="weeks">
        {view.weeks.length === 0 ? (
          <Empty>It has not hung for a whole week yet.</Empty>
        ) : (
          <ColumnChart
            title={`Iron lost by week, ${weekly.sign}`}
            labelHead="Week of"
            columns={view.weeks.map(({ week, lossG }) => ({
              label: shortDay(week, shop),
              value: weekly.fromSi(lossG),
              text: formatNumber(weekly.fromSi(lossG)),
            }))}
          />
        )}
      </Section>
      <Section title="Runs that wore it" id="runs">
        {view.total === 0 ? (
          <Empty>No run has worn it yet.</Empty>
        ) : (
          <Table
            caption="Runs that wore this anode, newest first"
            rows={view.runs}
            rowKey={(run) => run.runId}
            columns={runColumns(shop, view.seesMoney)}
          />
        )}
        <Pager
          page={window.page}
          pages={Math.ceil(view.total / window.take)}
          href={(page) => `/figures/anodes/${anode.id}?page=${page}#runs`}
        />
      </Section>
    </Page>
  );
}

function shortDay(day: Date, { locale }: Shop): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone: "UTC",
    day: "numeric",
    month: "short",
  }).format(day);
}

function runColumns(shop: Shop, money: boolean): readonly Column<AnodePage["runs"][number]>[] {
  const columns: Column<AnodePage["runs"][number]>[] = [
    {
      head: "Run",
      cell: (run) => (
        <>
          <TextLink href={`/runs/${run.runId}`}>Run {run.runNumber}</TextLink>
          <span className="block text-sm text-zinc">
            {run.pulledAt ? formatDate(run.pulledAt, shop) : ""}
          </span>
        </>
      ),
    },
    { head: "Charge", numeric: true, cell: (run) => `${formatNumber(run.chargeAh)} A·h` },
    {
      head: "Iron lost",
      numeric: true,
      cell: (run) => formatMeasure("steelMass", run.lossG, shop.unitSystem),
    },
  ];
  if (!money) return columns;
  return [
    ...columns,
    { head: "At cost", numeric: true, cell: (run) => moneyText(run.costMinor, shop) },
  ];
}
