import { type MoneyCustoms, moneyText } from "./money";

type Line = {
  readonly position: number;
  readonly label: string;
  readonly detail: string;
  readonly netMinor: number;
  readonly taxMinor: number;
};

type PricedTax = { readonly name: string; readonly percent: number; readonly taxMinor: number };

type Priced = {
  readonly lines: readonly Line[];
  readonly netMinor: number;
  readonly totalMinor: number;
  readonly taxes: readonly PricedTax[];
  readonly pricesIncludeTax: boolean;
};

/** The price as the customer reads it: a line each, then tax and total. */
export function PriceLines({
  option,
  customs,
  caption = "The price, line by line",
}: {
  readonly option: Priced;
  readonly customs: MoneyCustoms;
  /** for screen readers: which price this is, where there are several */
  readonly caption?: string;
}) {
  const totals = [
    { label: "Before tax", minor: option.netMinor },
    ...option.taxes.map(({ name, percent, taxMinor }) => ({
      label: `${name}, ${percent} %`,
      minor: taxMinor,
    })),
  ];
  const told = option.pricesIncludeTax ? "With tax" : "Before tax";
  return (
    <div className="plate overflow-x-auto">
      <table className="w-full text-left">
        <caption className="sr-only">{caption}</caption>
        <thead className="border-b border-line text-sm text-zinc">
          <tr>
            <th scope="col" className="px-4 py-2 font-medium">
              For
            </th>
            <th scope="col" className="px-4 py-2 text-right font-medium">
              {told}
            </th>
          </tr>
        </thead>
        <tbody className="divide-y divide-line">
          {option.lines.map((line) => (
            <tr key={line.position} className="align-top">
              <td className="px-4 py-3">
                <span className="font-medium">{line.label}</span>
                {line.detail ? (
                  <span className="block max-w-prose text-sm text-zinc">{line.detail}</span>
                ) : null}
              </td>
              <td className="px-4 py-3 text-right whitespace-nowrap">
                {moneyText(line.netMinor + (option.pricesIncludeTax ? line.taxMinor : 0), customs)}
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot className="border-t-2 border-magnetite">
          {totals.map(({ label, minor }) => (
            <tr key={label}>
              <th scope="row" className="px-4 py-1.5 text-right font-normal text-zinc">
                {label}
              </th>
              <td className="px-4 py-1.5 text-right whitespace-nowrap">
                {moneyText(minor, customs)}
              </td>
            </tr>
          ))}
          <tr className="text-lg font-bold">
            <th scope="row" className="px-4 py-2 text-right">
              Total
            </th>
            <td className="px-4 py-2 text-right whitespace-nowrap">
              {moneyText(option.totalMinor, customs)}
            </td>
          </tr>
        </tfoot>
      </table>
    </div>
  );
}
