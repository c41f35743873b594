import { formatDay, formatWhen, type shopSettings } from "@/lib/server";
import type { CutView, TankPage } from "@/lib/services";
import { formatMeasures, gramsFromOunces } from "@/lib/units";
import {
  Badge,
  Confirm,
  Empty,
  Figure,
  Figures,
  Form,
  MeasureField,
  moneyText,
  Section,
  Submit,
  Table,
  TextLink,
} from "@/app/ui";
import { removeAnodeAction, weighAnodeAction } from "../actions";
import { HangAnode } from "./hang-anode";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop; readonly keeps: boolean };
type Condition = TankPage["anodes"][number];

/** The anodes in the tank: what is left of them, until when, and what can be done. */
export function AnodeSection({ view, shop, keeps, cut }: Props & { readonly cut: CutView | null }) {
  return (
    <Section title={view.anodes.length > 1 ? "Anodes" : "Anode"} id="anodes">
      {view.anodes.length === 0 ? (
        <Empty>No anode hangs in this tank. Without one no current flows.</Empty>
      ) : (
        <div className="space-y-6">
          {view.anodes.map((condition) => (
            <AnodeCondition
              key={condition.anode.id}
              condition={condition}
              {...{ view, shop, keeps }}
            />
          ))}
        </div>
      )}
      {keeps && !view.running ? <HangAnode view={view} shop={shop} cut={cut} /> : null}
      <Removed view={view} shop={shop} />
    </Section>
  );
}

const STATE = {
  sound: { tone: "zinc", word: "sound" },
  look: { tone: "brass", word: "look at it" },
  replace: { tone: "oxide", word: "replace it" },
} as const;

function AnodeCondition({
  condition,
  view,
  shop,
  keeps,
}: Props & { readonly condition: Condition }) {
  const { anode, massG, gone, thicknessMm, state } = condition;
  const figure = view.wear.find((wear) => wear.anode.id === anode.id);
  const due = figure?.replaceBy;
  return (
    <article aria-label={anode.name} className="space-y-3">
      <h3 className="flex flex-wrap items-center gap-3 text-lg font-semibold">
        {anode.name}
        <Badge tone={STATE[state].tone}>{STATE[state].word}</Badge>
        <span className="text-base font-normal text-zinc">
          {anode.place === "INNER" ? "inner anode" : "at the wall"}, since{" "}
          {formatWhen(anode.installedAt, shop)}
        </span>
      </h3>
      <p>
        {due ? (
          <>
            Replace by <strong>{formatDay(due.p50, shop)}</strong>
            <span className="text-zinc">
              {" "}
              (from {formatDay(due.p10, shop)}
              {due.p90 ? ` to ${formatDay(due.p90, shop)}` : ", perhaps much later"})
            </span>
            .{" "}
          </>
        ) : (
          "It has not worn lately, so no date can be said. "
        )}
        <TextLink href={`/figures/anodes/${anode.id}`}>How it wore</TextLink>
      </p>
      <Figures>
        <Figure worked={gone} />
        <Figure worked={massG} />
        <Figure worked={thicknessMm} />
      </Figures>
      {keeps ? (
        <div className="grid items-start gap-3 md:grid-cols-2">
          <Weigh tankId={view.tank.id} anodeId={anode.id} shop={shop} />
          {view.running ? null : (
            <Confirm
              label="Take it out"
              question="Supply off, clip off, then lift it. Its history stays."
              action={removeAnodeAction}
              confirm="It is out"
            >
              <input type="hidden" name="tankId" value={view.tank.id} />
              <input type="hidden" name="anodeId" value={anode.id} />
            </Confirm>
          )}
        </div>
      ) : null}
      <Weighings condition={condition} shop={shop} />
    </article>
  );
}

/** What a usual scale is good to, g: assumption. */
const SCALE_ERROR_G = { METRIC: 5, US: gramsFromOunces(0.25) } as const;

type WeighProps = Pick<Props, "shop"> & { readonly tankId: string; readonly anodeId: string };

function Weigh({ tankId, anodeId, shop }: WeighProps) {
  return (
    <details className="plate">
      <summary className="flex min-h-11 items-center px-4 font-medium">Weigh it</summary>
      <div className="border-t border-line p-4">
        <Form action={weighAnodeAction} label="Weigh the anode" clearWhenDone>
          <input type="hidden" name="tankId" value={tankId} />
          <input type="hidden" name="anodeId" value={anodeId} />
          <p>Supply off. Brush off sludge and scale, rinse, dry.</p>
          <div className="grid gap-4 sm:grid-cols-2">
            <MeasureField name="massG" label="Mass" kind="steelMass" required />
            <MeasureField
              name="errorG"
              label="Scale is good to"
              kind="salt"
              value={SCALE_ERROR_G[shop.unitSystem]}
              required
            />
          </div>
          <Submit>Weighed</Submit>
        </Form>
      </div>
    </details>
  );
}

function Weighings({
  condition: { anode },
  shop,
}: Pick<Props, "shop"> & { readonly condition: Condition }) {
  if (anode.weighings.length === 0) return null;
  return (
    <details>
      <summary className="min-h-11 py-2 text-bath">Weighings ({anode.weighings.length})</summary>
      <Table
        caption={`Weighings of ${anode.name}, newest first`}
        rows={anode.weighings}
        rowKey={({ id }) => id}
        columns={[
          { head: "When", cell: ({ at }) => formatWhen(at, shop) },
          {
            head: "Mass",
            numeric: true,
            cell: ({ massG, errorG }) =>
              formatMeasures("steelMass", [massG, errorG], shop.unitSystem, " ± "),
          },
          { head: "By", cell: ({ weighedBy }) => weighedBy.name },
        ]}
      />
    </details>
  );
}

function Removed({ view: { removedAnodes }, shop }: Omit<Props, "keeps">) {
  if (removedAnodes.length === 0) return null;
  return (
    <details className="mt-3">
      <summary className="min-h-11 py-2 text-bath">Earlier anodes ({removedAnodes.length})</summary>
      <Table
        caption="Anodes that were taken out, last first"
        rows={removedAnodes}
        rowKey={({ id }) => id}
        columns={[
          { head: "Anode", cell: ({ name }) => name },
          { head: "In", cell: ({ installedAt }) => formatWhen(installedAt, shop) },
          { head: "Out", cell: ({ removedAt }) => (removedAt ? formatWhen(removedAt, shop) : "") },
          {
            head: "Charge",
            numeric: true,
            wideOnly: true,
            cell: ({ wear }) =>
              `${wear.reduce((sum, { chargeAh }) => sum + chargeAh, 0).toFixed(0)} A·h`,
          },
          {
            head: "Borne by no run",
            numeric: true,
            wideOnly: true,
            cell: ({ writtenOffMinor }) =>
              writtenOffMinor === null ? "" : moneyText(writtenOffMinor, shop),
          },
        ]}
      />
    </details>
  );
}
