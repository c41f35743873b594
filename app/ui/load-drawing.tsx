import { useId } from "react";
import type { UnitSystem } from "@/lib/units";
import { pieceLabel, type PlaceWords, placeWords } from "./load-geometry";
import { LoadFromAbove, LoadFromSide, type LoadViewProps } from "./load-views";
import { Table } from "./plain";

type LoadDrawingProps = Omit<LoadViewProps, "id"> & { readonly units: UnitSystem };

/**
 * How a load hangs in its tank: from above and from the front, to one scale, each piece under its mark, and a table that
 * says the same.
 *
 * @example <LoadDrawing name="Long trough" {...packing} load={load} parts={parts} anode units="METRIC" />
 */
export function LoadDrawing({ units, ...view }: LoadDrawingProps) {
  const id = useId();
  return (
    <figure className="plate space-y-4 p-4">
      <figcaption className="text-sm text-zinc">
        To scale. The dashed line bounds the free bath; the table says the same as the drawing.
      </figcaption>
      <div className="grid gap-4 sm:grid-cols-2 sm:items-end">
        <div>
          <p className="mb-1 font-medium">From above, the front below</p>
          <LoadFromAbove id={id} {...view} />
        </div>
        <div>
          <p className="mb-1 font-medium">From the front</p>
          <LoadFromSide id={id} {...view} />
        </div>
      </div>
      <details>
        <summary className="flex min-h-12 items-center text-bath underline underline-offset-3">
          Where each piece hangs, as a table
        </summary>
        <PlacesTable units={units} {...view} />
      </details>
    </figure>
  );
}

type Row = PlaceWords & { readonly key: string; readonly label: string; readonly what: string };

function PlacesTable({ name, load, places, parts, units }: Omit<LoadDrawingProps, "anode">) {
  const rows = places.map((place): Row => {
    return {
      ...placeWords(place, load, units),
      key: `${place.id} ${place.copy}`,
      label: pieceLabel(place, parts),
      what: parts.find(({ id }) => id === place.id)?.description ?? "",
    };
  });
  const byLabel = rows.sort((a, b) => a.label.localeCompare(b.label, "en", { numeric: true }));
  return (
    <Table<Row>
      caption={`Where each piece hangs in ${name}`}
      rows={byLabel}
      rowKey={({ key }) => key}
      columns={[
        { head: "Part", cell: ({ label, what }) => `${label}, ${what}` },
        { head: "From the left wall", cell: ({ left }) => left, numeric: true },
        { head: "From the front", cell: ({ front }) => front, numeric: true },
        { head: "Over the floor", cell: ({ floor }) => floor, numeric: true },
        { head: "Turned", cell: ({ turned }) => turned },
      ]}
    />
  );
}
