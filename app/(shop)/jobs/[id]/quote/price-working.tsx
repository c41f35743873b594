import { LINE_KIND_WORDS } from "@/lib/pricing";
import type { StoredEstimate } from "@/lib/services";
import { Figure, Figures, type MoneyCustoms, moneyText } from "@/app/ui";

type Props = { readonly estimate: StoredEstimate; readonly customs: MoneyCustoms };

/** The shop's own lines behind the price, each with its working. Customers never see these. */
export function PriceWorking({ estimate: { priced }, customs }: Props) {
  return (
    <details className="plate">
      <summary className="flex min-h-12 items-center px-4 font-medium">
        How the price comes about (for the shop only)
      </summary>
      <div className="space-y-4 border-t border-line p-4">
        <Figures>
          <Figure
            worked={priced.total}
            shown={moneyText(priced.totalMinor, customs)}
            label="Total, with the range of the hours"
          />
          {priced.costs.map(({ kind, minor, worked }) => (
            <Figure
              key={kind}
              worked={worked}
              shown={moneyText(minor, customs)}
              label={LINE_KIND_WORDS[kind]}
            />
          ))}
        </Figures>
        {priced.adjustmentMinor === 0 ? null : (
          <p className="text-zinc">
            Minimum charge, rush and discount together: {moneyText(priced.adjustmentMinor, customs)}
            .
          </p>
        )}
      </div>
    </details>
  );
}
