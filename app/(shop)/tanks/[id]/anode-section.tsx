import { randomUUID } from "node:crypto";
import { formatDay, formatWhen, type shopSettings } from "@/lib/server";
import type { TankPage } from "@/lib/services";
import { formatMeasures, gramsFromOunces } from "@/lib/units";
import {
  Badge,
  Confirm,
  Empty,
  Figure,
  Figures,
  Form,
  MeasureField,
  NumberField,
  Section,
  SelectField,
  Submit,
  Table,
  TextField,
  TextLink,
} from "@/app/ui";
import { exactQuantity } from "../../stock/quantity";
import { itemChoiceText } from "../../stock/item-choice";
import { installAnodeAction, removeAnodeAction, weighAnodeAction } from "../actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop; readonly keeps: boolean };
type Condition = TankPage["anodes"][number];

/** The anodes in the tank: what is left of them, until when, and what can be done. */
export function AnodeSection({ view, shop, keeps }: Props) {
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
      {keeps && !view.running ? <Install view={view} shop={shop} /> : null}
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

function Install({ view: { tank, steels, anodes }, shop }: Omit<Props, "keeps">) {
  return (
    <details className="plate mt-4" open={anodes.length === 0}>
      <summary className="flex min-h-12 items-center px-4 font-semibold">Hang an anode</summary>
      <div className="border-t border-line p-4">
        <Form action={installAnodeAction} label="Hang an anode" clearWhenDone>
          <input type="hidden" name="tankId" value={tank.id} />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <p>
            Plain mild steel only. Never stainless: it puts chromium(VI) in the bath. Never plated
            or galvanised. The clip of the positive lead stays above the liquid.
          </p>
          <div className="grid gap-4 sm:grid-cols-2">
            <TextField
              name="name"
              label="Name"
              hint="“Sheet round the wall”, “rebar, left”."
              required
            />
            <SelectField
              name="place"
              label="Where"
              options={[
                { value: "WALL", label: "at the wall" },
                { value: "INNER", label: "inside a hollow part" },
              ]}
            />
            <MeasureField name="massG" label="Mass, weighed" kind="steelMass" required />
            <MeasureField
              name="wettedAreaM2"
              label="Area facing the bath"
              kind="area"
              hint="Length × height of what is under the level."
              required
            />
            <NumberField
              name="replaceAtPercent"
              label="Replace when gone"
              unit="%"
              defaultValue={50}
              required
            />
            <MeasureField
              name="thicknessMm"
              label="Thickness of the sheet"
              kind="thickness"
              hint="Where thickness decides; leave both empty for rods."
            />
            <MeasureField name="leastThicknessMm" label="Replace at" kind="thickness" />
            <SelectField
              name="steelItemId"
              label="Steel from stock"
              options={[
                { value: "", label: "none: scrap of our own" },
                ...steels.map(({ itemId, name, onHand, unit }) => ({
                  value: itemChoiceText({ itemId, unit }),
                  label: `${name} (${exactQuantity(onHand, unit, shop.unitSystem)} on hand)`,
                })),
              ]}
            />
            <NumberField
              name="steelQuantity"
              label="How much of it"
              hint={STEEL_HINT[shop.unitSystem]}
            />
          </div>
          <Submit>It hangs</Submit>
        </Form>
      </div>
    </details>
  );
}

const STEEL_HINT = {
  METRIC: "In the item's own unit: millimetres, grams or pieces.",
  US: "In the item's own unit: inches, ounces or pieces. 2 ft 3 in or 5 lb do too.",
} as const;

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
        ]}
      />
    </details>
  );
}
