import { type JobCost, LINE_KIND_WORDS } from "@/lib/pricing";
import { Bar, type MoneyCustoms, moneyText, signedMoneyText } from "@/app/ui";

type Props = {
  readonly cost: JobCost;
  readonly customs: MoneyCustoms;
  readonly settled: boolean;
};

/** Estimated and actual cost by kind; the bar is what it took, the line on it what was estimated. */
export function CostLines({ cost, customs, settled }: Props) {
  const most = Math.max(
    1,
    ...cost.lines.flatMap((line) => [line.actualMinor, line.estimatedMinor]),
  );
  return (
    <div
      className="plate overflow-x-auto"
      role="region"
      aria-label="Cost line by line"
      tabIndex={0}
    >
      <table className="w-full text-left">
        <caption className="sr-only">Estimated and actual cost by kind</caption>
        <thead className="border-b border-line text-sm text-zinc">
          <tr>
            <th scope="col" className="px-3 py-2 font-medium">
              For
            </th>
            <th scope="col" className="px-3 py-2 text-right font-medium">
              Estimated
            </th>
            <th scope="col" className="px-3 py-2 text-right font-medium">
              {settled ? "Took" : "So far"}
            </th>
            <th scope="col" className="px-3 py-2 text-right font-medium">
              Difference
            </th>
            <th scope="col" className="hidden w-1/4 px-3 py-2 font-medium sm:table-cell">
              <span aria-hidden="true">Took ▬, estimated |</span>
              <span className="sr-only">Drawn</span>
            </th>
          </tr>
        </thead>
        <tbody className="divide-y divide-line">
          {cost.lines.map((line) => (
            <tr key={line.kind}>
              <th scope="row" className="px-3 py-2 font-medium first-letter:uppercase">
                {LINE_KIND_WORDS[line.kind]}
              </th>
              <Amounts {...line} customs={customs} />
              <td className="hidden px-3 py-2 align-middle sm:table-cell">
                <Bar
                  share={line.actualMinor / most}
                  mark={line.estimatedMinor / most}
                  tone={line.varianceMinor > 0 ? "oxide" : "bath"}
                />
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot className="border-t-2 border-magnetite font-bold">
          <tr>
            <th scope="row" className="px-3 py-2">
              All of it
            </th>
            <Amounts {...cost} customs={customs} />
            <td className="hidden sm:table-cell" />
          </tr>
        </tfoot>
      </table>
    </div>
  );
}

type AmountsProps = {
  readonly estimatedMinor: number;
  readonly actualMinor: number;
  readonly varianceMinor: number;
  readonly customs: MoneyCustoms;
};

function Amounts({ estimatedMinor, actualMinor, varianceMinor, customs }: AmountsProps) {
  const cell = "px-3 py-2 text-right whitespace-nowrap";
  return (
    <>
      <td className={cell}>{moneyText(estimatedMinor, customs)}</td>
      <td className={cell}>{moneyText(actualMinor, customs)}</td>
      <td className={cell}>{signedMoneyText(varianceMinor, customs)}</td>
    </>
  );
}
