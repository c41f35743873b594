import type { ShopSettings } from "@/lib/server";
import type { CapacityFigures } from "@/lib/services";
import { Bar, ColumnChart, formatNumber, TextLink } from "@/app/ui";

type Props = { readonly capacity: CapacityFigures; readonly shop: ShopSettings };
type Cell = CapacityFigures["cells"][number];

/** Hours by tank and week: drawn for the whole shop, then one cell a tank and week that leads to its loads. */
export function CapacityGrid({ capacity, shop }: Props) {
  const { tanks, weeks, thisWeek, cells } = capacity;
  const names = weeks.map((monday) => ({ monday, label: shortDay(monday, shop) }));
  return (
    <div className="space-y-4">
      <ColumnChart
        title="Hours used in all tanks, by week"
        labelHead="Week of"
        columns={names.map(({ monday, label }) => {
          const used = sumOf(cells, monday, ({ usedHours }) => usedHours);
          return {
            label,
            value: used,
            text: `${Math.round(used)} h`,
            expected: monday >= thisWeek,
          };
        })}
      />
      <div
        className="plate overflow-x-auto"
        role="region"
        aria-label="Hours by tank and week"
        tabIndex={0}
      >
        <table className="w-full text-left">
          <caption className="px-3 py-2 text-left text-sm text-zinc">
            Hours used, and hours free, of each tank in the week that begins on that Monday. This
            week and later count what is booked.
          </caption>
          <thead className="border-b border-line text-sm text-zinc">
            <tr>
              <th scope="col" className="sticky left-0 bg-sheet px-3 py-2 font-medium">
                Tank
              </th>
              {names.map(({ monday, label }) => (
                <th
                  key={monday}
                  scope="col"
                  className="px-2 py-2 text-right font-medium whitespace-nowrap"
                >
                  {monday === thisWeek ? "This week" : label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody className="divide-y divide-line">
            {tanks.map((tank) => (
              <tr key={tank.id}>
                <th scope="row" className="sticky left-0 bg-sheet px-3 py-2 font-medium">
                  <TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink>
                </th>
                {cells
                  .filter(({ tankId }) => tankId === tank.id)
                  .map((cell) => (
                    <WeekCell key={cell.monday} cell={cell} />
                  ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}

function WeekCell({ cell }: { readonly cell: Cell }) {
  const { usedHours, freeHours, tankId, monday } = cell;
  return (
    <td className="min-w-20 px-2 py-2 text-right align-top text-sm">
      <TextLink href={`/figures/tanks/${tankId}/${monday}`}>
        {formatNumber(Math.round(usedHours))} h
      </TextLink>
      <span className="block whitespace-nowrap text-zinc">{Math.round(freeHours)} free</span>
      <Bar share={usedHours / Math.max(1, usedHours + freeHours)} />
    </td>
  );
}

function sumOf(cells: readonly Cell[], monday: string, value: (cell: Cell) => number): number {
  return cells
    .filter((cell) => cell.monday === monday)
    .reduce((total, cell) => total + value(cell), 0);
}

/** @example shortDay("2030-01-07", shop) // "7 Jan" */
function shortDay(monday: string, { locale }: ShopSettings): string {
  return new Intl.DateTimeFormat(locale, {
    timeZone: "UTC",
    day: "numeric",
    month: "short",
  }).format(new Date(`${monday}T00:00:00Z`));
}
