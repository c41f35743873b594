import { type MoneyCustoms, moneyText } from "./money";

type Ranged = {
  readonly totalMinor: number;
  readonly lowMinor: number;
  readonly highMinor: number;
  readonly depositMinor: number;
};

type Props = { readonly option: Ranged; readonly customs: MoneyCustoms };

/** What the hours could make of a price, what holds, and what is asked before work begins. */
export function QuoteRange({ option, customs }: Props) {
  const { totalMinor, lowMinor, highMinor, depositMinor } = option;
  const total = moneyText(totalMinor, customs);
  return (
    <div className="space-y-1">
      {lowMinor < highMinor ? (
        <p className="text-zinc">
          By the hours it could come to{" "}
          <span className="font-medium whitespace-nowrap">{moneyText(lowMinor, customs)}</span> with
          the shortest that we expect and{" "}
          <span className="font-medium whitespace-nowrap">{moneyText(highMinor, customs)}</span>{" "}
          with the longest. The price offered is {total}, however long it takes.
        </p>
      ) : null}
      <p>
        {depositMinor > 0 ? (
          <>
            <span className="font-medium">{moneyText(depositMinor, customs)} deposit</span> before
            work begins, of this price.
          </>
        ) : (
          "No deposit."
        )}
      </p>
    </div>
  );
}
