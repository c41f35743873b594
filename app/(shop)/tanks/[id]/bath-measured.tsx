import { randomUUID } from "node:crypto";
import { formatWhen, type shopSettings } from "@/lib/server";
import type { TankPage } from "@/lib/services";
import { formatMeasure } from "@/lib/units";
import { Figure, Figures, Form, formatNumber, MeasureField, Notice, Submit, Table } from "@/app/ui";
import { measureBathAction } from "./care-actions";

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Props = { readonly view: TankPage; readonly shop: Shop };

/** What the bath is by the books, where it would drop crystals, and what was measured in it. */
export function BathStanding({ view, shop }: Props) {
  const { bathFigures, tank } = view;
  const told = (siemens: number): string => formatMeasure("conductivity", siemens, shop.unitSystem);
  if (!bathFigures) return null;
  const { conductivity, strength, coldestC, byCurrent } = bathFigures;
  return (
    <div className="space-y-3">
      <Figures>
        <Figure worked={strength} />
        <Figure worked={conductivity} />
      </Figures>
      {coldestC !== null ? (
        <Notice
          tone={(tank.bath?.temperatureC ?? shop.workshopTempC) < coldestC + 3 ? "oxide" : "brass"}
          title={`Drops crystals below ${formatMeasure("temperature", coldestC, shop.unitSystem)}`}
        >
          <p>Keep the workshop warmer overnight, or thin the bath.</p>
        </Notice>
      ) : null}
      {byCurrent ? (
        <p>
          By what the load draws now it conducts {formatNumber(byCurrent.mid)} S/m (
          {told(byCurrent.mid)} on a meter), between {formatNumber(byCurrent.low)} and{" "}
          {Number.isFinite(byCurrent.high) ? formatNumber(byCurrent.high) : "far more"}: the
          anode&apos;s state and the shape of the load are not known better.
        </p>
      ) : null}
      {(tank.bath?.measurements ?? []).length > 0 ? <Measurements view={view} shop={shop} /> : null}
    </div>
  );
}

function Measurements({ view, shop }: Props) {
  return (
    <details>
      <summary className="min-h-11 py-2 text-bath">What was measured</summary>
      <Table
        caption="Measurements of this bath, newest first"
        rows={view.tank.bath?.measurements ?? []}
        rowKey={({ id }) => id}
        columns={[
          { head: "When", cell: ({ at }) => formatWhen(at, shop) },
          {
            head: "Conductivity",
            numeric: true,
            cell: ({ conductivitySPerM }) =>
              formatMeasure("conductivity", conductivitySPerM, shop.unitSystem),
          },
          {
            head: "Soda, books",
            numeric: true,
            cell: (row) =>
              formatMeasure("salt", row.carbonateBeforeG + row.bicarbonateBeforeG, shop.unitSystem),
          },
          {
            head: "Soda, found",
            numeric: true,
            cell: (row) =>
              formatMeasure("salt", row.carbonateAfterG + row.bicarbonateAfterG, shop.unitSystem),
          },
          {
            head: "How",
            wideOnly: true,
            cell: ({ measuredBy }) => (measuredBy === "METER" ? "meter" : "by the current"),
          },
          { head: "Who", wideOnly: true, cell: ({ measurer }) => measurer.name },
        ]}
      />
    </details>
  );
}

/** Writes a measured conductivity down: the books then follow the bath. */
export function MeasureForm({ view }: Pick<Props, "view">) {
  const { tank, bathFigures } = view;
  if (!tank.bath || tank.bath.carbonateG + tank.bath.bicarbonateG === 0) return null;
  return (
    <details className="plate">
      <summary className="flex min-h-12 items-center px-4 font-semibold">
        Measure the conductivity
      </summary>
      <div className="space-y-5 border-t border-line p-4">
        <Form action={measureBathAction} label="Measure the conductivity" clearWhenDone>
          <input type="hidden" name="tankId" value={tank.id} />
          <input type="hidden" name="measuredBy" value="METER" />
          <input type="hidden" name="idempotencyKey" value={randomUUID()} />
          <p>
            Supply off, bath stirred. Read the meter without its correction to 25 °C; the books then
            hold what the bath holds.
          </p>
          <div className="grid gap-4 sm:grid-cols-2">
            <MeasureField
              kind="conductivity"
              name="conductivitySPerM"
              label="Conductivity"
              required
            />
            <MeasureField
              kind="temperature"
              name="temperatureC"
              label="Temperature"
              value={tank.bath.temperatureC}
              required
            />
          </div>
          <Submit>Write it down</Submit>
        </Form>
        {bathFigures?.byCurrent ? <ByCurrent view={view} mid={bathFigures.byCurrent.mid} /> : null}
      </div>
    </details>
  );
}

function ByCurrent({ view: { tank }, mid }: { readonly view: TankPage; readonly mid: number }) {
  return (
    <Form action={measureBathAction} label="Take it from the current">
      <input type="hidden" name="tankId" value={tank.id} />
      <input type="hidden" name="measuredBy" value="CURRENT" />
      <input type="hidden" name="idempotencyKey" value={randomUUID()} />
      <input type="hidden" name="conductivitySPerM" value={`${mid} S/m`} />
      <input type="hidden" name="temperatureC" value={`${tank.bath?.temperatureC ?? 18} °C`} />
      <p className="text-sm">
        No meter? What the load draws tells the conductivity within half or so. A meter, or a fresh
        weighing, is better.
      </p>
      <Submit kind="plain">Take it from the current</Submit>
    </Form>
  );
}
