import clsx from "clsx";
import type { ShownVersion } from "@/lib/services";
import { Badge, type MoneyCustoms, moneyText, PriceLines, QuoteRange } from "@/app/ui";
import { PriceWorking } from "./price-working";

type Props = { readonly version: ShownVersion; readonly customs: MoneyCustoms };

/** The options of one version side by side, each with its lines, range, deposit and the shop's own working. */
export function OptionSheets({ version, customs }: Props) {
  const { options } = version;
  return (
    <ul className={clsx("grid items-start gap-4", options.length > 1 && "lg:grid-cols-2")}>
      {options.map((option) => (
        <li key={option.id} className="min-w-0 space-y-2">
          <h3 className="flex flex-wrap items-baseline gap-x-3 gap-y-1">
            <span className="text-lg font-semibold break-words">{option.name}</span>
            <span className="font-medium">{moneyText(option.totalMinor, customs)}</span>
            {option.id === version.acceptedOptionId ? <Badge tone="bath">accepted</Badge> : null}
          </h3>
          <p className="text-sm text-zinc">{optionWords(option)}</p>
          <PriceLines
            option={option}
            customs={customs}
            caption={`The price of “${option.name}”, line by line`}
          />
          <QuoteRange option={option} customs={customs} />
          {option.stored ? <PriceWorking estimate={option.stored} customs={customs} /> : null}
        </li>
      ))}
    </ul>
  );
}

const GOAL_WORDS = { RUST_ONLY: "rust only", STRIP_TO_METAL: "stripped to metal" } as const;

function optionWords({ goal, rush, stored, discountPercent }: ShownVersion["options"][number]) {
  const anew = stored?.plannedForGoal.length ?? 0;
  const words = [
    goal === null ? "as each part is planned" : GOAL_WORDS[goal],
    ...(rush ? ["rush"] : []),
    ...(discountPercent > 0 ? [`${discountPercent} % off`] : []),
    ...(anew > 0
      ? [`${anew} ${anew === 1 ? "part" : "parts"} planned for it, kept when accepted`]
      : []),
  ];
  return `${words.join("; ")}.`;
}
