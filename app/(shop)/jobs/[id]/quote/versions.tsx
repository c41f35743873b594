import { formatDay, type ShopSettings } from "@/lib/server";
import type { ShownQuote, ShownVersion } from "@/lib/services";
import { type MoneyCustoms, moneyText, QuoteChanges } from "@/app/ui";
import { QUOTE_STATE } from "../../../words";

type Props = {
  readonly quote: ShownQuote;
  readonly customs: MoneyCustoms;
  readonly shop: ShopSettings;
};

/** Every version, newest first: what it cost, what became of it, and what it changed. */
export function Versions({ quote, customs, shop }: Props) {
  if (quote.versions.length < 2) return null;
  return (
    <details className="plate">
      <summary className="flex min-h-12 items-center px-4 font-medium">
        All versions, and what each changed ({quote.versions.length})
      </summary>
      <ul className="divide-y divide-line border-t border-line px-4">
        {quote.versions.map((version) => (
          <li key={version.id} className="space-y-2 py-3">
            <p className="flex flex-wrap items-baseline gap-x-4 gap-y-1">
              <span className="font-medium">Version {version.version}</span>
              <span>{totals(version, customs)}</span>
              <span className="text-zinc">{QUOTE_STATE[version.state].word}</span>
              <a className="link py-1" href={`/quotes/${quote.id}/${version.id}/pdf`}>
                PDF of version {version.version}
              </a>
            </p>
            {version.difference ? (
              <QuoteChanges
                difference={version.difference}
                customs={customs}
                dayText={(day) => formatDay(day, shop)}
              />
            ) : null}
          </li>
        ))}
      </ul>
    </details>
  );
}

function totals({ options }: ShownVersion, customs: MoneyCustoms): string {
  const amounts = options.map(({ name, totalMinor }) => {
    const amount = moneyText(totalMinor, customs);
    return options.length > 1 ? `${name} ${amount}` : amount;
  });
  return amounts.join("; ");
}
