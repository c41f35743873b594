import type { ShopSettings } from "@/lib/server";
import type { ItemOrderingView } from "@/lib/services";
import { type ChartColumn, ColumnChart, Empty } from "@/app/ui";
import { shownQuantity } from "../../quantity";

const WEEK = 7;
/** Weeks that are drawn. */
const SHOWN = 26;
const DAY_MS = 86_400_000;

type Props = { readonly view: ItemOrderingView; readonly shop: ShopSettings };

/** What was used week by week, up to yesterday. */
export function DemandChart({ view: { use, item, demand }, shop }: Props) {
  if (demand.usedDays === 0) return <Empty>Nothing of it has been used in the last year.</Empty>;
  const weeks = Math.min(SHOWN, Math.ceil(use.days.length / WEEK));
  const columns = Array.from({ length: weeks }, (_, index): ChartColumn => {
    const end = use.days.length - (weeks - 1 - index) * WEEK;
    const days = use.days.slice(Math.max(0, end - WEEK), end);
    const known = days.filter((day) => day !== null);
    const value = known.reduce((sum, day) => sum + day, 0);
    const first = new Date((use.firstDay + Math.max(0, end - WEEK)) * DAY_MS);
    return {
      label: dayAndMonth(first, shop),
      value,
      text: known.length === 0 ? "none there" : shownQuantity(value, item.unit, shop.unitSystem),
    };
  });
  return (
    <ColumnChart title={`Used a week, ${item.name}`} columns={columns} labelHead="Week from" />
  );
}

/** Short enough for a column, and no two of half a year alike. */
const dayAndMonth = (day: Date, { locale }: ShopSettings): string =>
  new Intl.DateTimeFormat(locale, { timeZone: "UTC", day: "numeric", month: "short" }).format(day);
