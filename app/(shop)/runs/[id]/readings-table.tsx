import { formatWhen } from "@/lib/server";
import type { RunView } from "@/lib/services";
import { Table } from "@/app/ui";
import { lengthWords, temperatureWords } from "../../measures";
import type { StepProps } from "./step-props";

type Props = { readonly readings: RunView["readings"]; readonly shop: StepProps["shop"] };

/** The readings that the chart draws, as numbers. */
export function ReadingsTable({ readings, shop }: Props) {
  if (readings.length === 0) return null;
  return (
    <details className="mt-3" open={readings.length <= 4}>
      <summary className="min-h-12 py-3 text-bath">The readings ({readings.length})</summary>
      <Table
        caption="Readings, newest first"
        rows={[...readings].reverse()}
        rowKey={({ id }) => id}
        columns={[
          { head: "When", cell: ({ at }) => formatWhen(at, shop) },
          { head: "Volts", numeric: true, cell: ({ voltsV }) => `${voltsV.toFixed(1)} V` },
          { head: "Amps", numeric: true, cell: ({ currentA }) => `${currentA.toFixed(2)} A` },
          {
            head: "Bath",
            numeric: true,
            wideOnly: true,
            cell: ({ temperatureC }) =>
              temperatureC === null ? "" : temperatureWords(temperatureC, shop.unitSystem),
          },
          {
            head: "Level",
            numeric: true,
            wideOnly: true,
            cell: ({ levelMm }) => (levelMm === null ? "" : lengthWords(levelMm, shop.unitSystem)),
          },
          { head: "By", wideOnly: true, cell: ({ takenBy }) => takenBy.name },
        ]}
      />
    </details>
  );
}
