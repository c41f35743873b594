import type { ReactNode } from "react";
import { type MoneyCustoms, moneyText, signedMoneyText } from "./money";

type Change<T> = { readonly before: T; readonly after: T };

type LineChange = {
  readonly label: string;
  readonly beforeMinor: number | null;
  readonly afterMinor: number | null;
  readonly otherWords: boolean;
};

type OptionChange = {
  readonly kind: "added" | "removed" | "changed";
  readonly name: string;
  readonly nameBefore: string | null;
  readonly total: Change<number | null>;
  readonly deposit: Change<number | null>;
  readonly lines: readonly LineChange[];
};

type TextChange = { readonly kind: "added" | "removed"; readonly text: string };

type Difference = {
  readonly options: readonly OptionChange[];
  readonly validUntil: Change<Date> | null;
  readonly depositPercent: Change<number> | null;
  readonly terms: readonly TextChange[];
  readonly message: readonly TextChange[];
  readonly isEmpty: boolean;
};

type Props = {
  readonly difference: Difference;
  readonly customs: MoneyCustoms;
  readonly dayText: (day: Date) => string;
};

/** What changed between two versions of a quote, in words and amounts. */
export function QuoteChanges({ difference, customs, dayText }: Props) {
  const { options, validUntil, depositPercent, terms, message } = difference;
  if (difference.isEmpty) return <p>Nothing that you would read differently.</p>;
  return (
    <ul className="list-disc space-y-2 pl-5">
      {options.map((option) => (
        <li key={`${option.kind} ${option.name}`}>
          <OptionWords option={option} customs={customs} />
        </li>
      ))}
      {validUntil ? (
        <li>
          Holds until {dayText(validUntil.after)}, before: {dayText(validUntil.before)}.
        </li>
      ) : null}
      {depositPercent ? (
        <li>
          Deposit {depositPercent.after} %, before: {depositPercent.before} %.
        </li>
      ) : null}
      <Texts what="Terms" changes={terms} />
      <Texts what="Message" changes={message} />
    </ul>
  );
}

type OptionProps = { readonly option: OptionChange; readonly customs: MoneyCustoms };

function OptionWords({ option, customs }: OptionProps) {
  const { kind, name, nameBefore, total, deposit, lines } = option;
  const amount = (minor: number | null) => moneyText(minor ?? 0, customs);
  if (kind !== "changed") {
    const minor = kind === "added" ? total.after : total.before;
    return (
      <>
        <strong>{name}</strong>, {amount(minor)}: {kind === "added" ? "new" : "no longer offered"}.
      </>
    );
  }
  return (
    <>
      <strong>{name}</strong>
      {nameBefore === null ? "" : ` (before: “${nameBefore}”)`}: {totalWords(total, customs)}
      {deposit.before === deposit.after
        ? ""
        : ` Deposit ${amount(deposit.after)}, before: ${amount(deposit.before)}.`}
      {lines.length > 0 ? (
        <ul className="list-[circle] pl-5">
          {lines.map((line, index) => (
            <li key={index}>
              {line.label}: {lineWords(line, customs)}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

function totalWords({ before, after }: OptionChange["total"], customs: MoneyCustoms): ReactNode {
  if (before === null || after === null || before === after) return "the same total.";
  const difference = signedMoneyText(after - before, customs);
  return `${moneyText(after, customs)}, before: ${moneyText(before, customs)} (${difference}).`;
}

function lineWords(line: LineChange, customs: MoneyCustoms): string {
  const { beforeMinor, afterMinor, otherWords } = line;
  if (afterMinor === null) return `left out (${moneyText(beforeMinor ?? 0, customs)})`;
  if (beforeMinor === null) return `new, ${moneyText(afterMinor, customs)}`;
  const words = otherWords ? ["described otherwise"] : [];
  if (beforeMinor !== afterMinor) {
    words.unshift(`${moneyText(afterMinor, customs)}, before: ${moneyText(beforeMinor, customs)}`);
  }
  return words.join("; ");
}

type TextsProps = { readonly what: string; readonly changes: readonly TextChange[] };

function Texts({ what, changes }: TextsProps) {
  if (changes.length === 0) return null;
  return (
    <li>
      {what}:
      <ul className="space-y-1">
        {changes.map(({ kind, text }, index) => (
          <li key={index} className="break-words">
            {kind === "added" ? (
              <>
                <span className="text-zinc">New: </span>
                <ins className="no-underline">{text}</ins>
              </>
            ) : (
              <>
                <span className="text-zinc">Left out: </span>
                <del>{text}</del>
              </>
            )}
          </li>
        ))}
      </ul>
    </li>
  );
}
