import clsx from "clsx";
import type { ReactNode } from "react";
import type { CustomerOffer, OfferedOption } from "@/lib/services";
import { Badge, type MoneyCustoms, moneyText, PriceLines, QuoteRange } from "@/app/ui";
import { PartPromises } from "./part-promises";

type Props = { readonly offer: CustomerOffer; readonly customs: MoneyCustoms };

/** The ways of doing it side by side, one below the other on a phone; each with its price and what is done. */
export function OptionCards({ offer, customs }: Props) {
  const { options, acceptedOptionId } = offer;
  return (
    <ul className={clsx("grid items-start gap-4", COLUMNS[options.length])}>
      {options.map((option) => (
        <li key={option.id} className="min-w-0">
          <OptionCard
            option={option}
            customs={customs}
            accepted={option.id === acceptedOptionId}
            passed={acceptedOptionId !== null && option.id !== acceptedOptionId}
          />
        </li>
      ))}
    </ul>
  );
}

const COLUMNS: Readonly<Record<number, string>> = {
  2: "md:grid-cols-2",
  3: "md:grid-cols-3",
  4: "md:grid-cols-2 xl:grid-cols-4",
};

type CardProps = {
  readonly option: OfferedOption;
  readonly customs: MoneyCustoms;
  readonly accepted: boolean;
  /** another one was accepted */
  readonly passed: boolean;
};

function OptionCard({ option, customs, accepted, passed }: CardProps) {
  const title = `option-${option.id}`;
  return (
    <article
      aria-labelledby={title}
      className={clsx("plate space-y-3 p-4", accepted && "border-2 border-bath")}
    >
      <div className="flex flex-wrap items-baseline justify-between gap-2">
        <h3 id={title} className="text-lg font-semibold break-words">
          {option.name}
        </h3>
        {accepted ? <Badge tone="bath">accepted</Badge> : null}
        {passed ? <Badge tone="zinc">not chosen</Badge> : null}
      </div>
      <p>
        <span className="text-3xl font-bold tabular-nums">
          {moneyText(option.totalMinor, customs)}
        </span>{" "}
        with tax
      </p>
      {option.rush ? <p className="font-medium">Goes before other work.</p> : null}
      <ul className="space-y-1">
        {option.promises.map(({ mark, description, hours }) => (
          <li key={mark}>
            {mark}, {description}: {hours}
          </li>
        ))}
      </ul>
      <QuoteRange option={option} customs={customs} />
      <Details title="What is done">
        <PartPromises promises={option.promises} heading="h4" />
      </Details>
      <Details title="Line by line">
        <PriceLines
          option={withoutRepeats(option)}
          customs={customs}
          caption={`The price of “${option.name}”, line by line`}
        />
      </Details>
    </article>
  );
}

function Details({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <details>
      <summary className="flex min-h-11 items-center text-bath underline underline-offset-3">
        {title}
      </summary>
      <div className="mt-2">{children}</div>
    </details>
  );
}

/** A part's line need not say again what stands above under what is done. */
export function withoutRepeats(option: OfferedOption): OfferedOption {
  const said = new Set(option.promises.map(({ work }) => work));
  return {
    ...option,
    lines: option.lines.map((line) => (said.has(line.detail) ? { ...line, detail: "" } : line)),
  };
}
