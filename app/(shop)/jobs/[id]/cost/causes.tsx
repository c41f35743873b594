import type { Cause } from "@/lib/services";
import { type MoneyCustoms, Said, signedMoneyText } from "@/app/ui";

type Props = { readonly causes: readonly Cause[]; readonly customs: MoneyCustoms };

/** The largest differences first, each with who or what stands behind it. */
export function Causes({ causes, customs }: Props) {
  return (
    <ol className="space-y-3">
      {causes.map((cause) => (
        <li key={cause.kind} className="plate p-4">
          <p className="font-semibold">
            <span className="inline-block first-letter:uppercase">{cause.words}</span>:{" "}
            {signedMoneyText(cause.varianceMinor, customs)}{" "}
            <span className="font-normal text-zinc">
              {cause.varianceMinor > 0 ? "more than estimated" : "less than estimated"}
            </span>
          </p>
          <ul className="mt-1 divide-y divide-line">
            {cause.effects.map(({ words, minor }) => (
              <li key={words} className="flex justify-between gap-4 py-1">
                <span>
                  <Said>{words}</Said>
                </span>
                <span className="whitespace-nowrap">{signedMoneyText(minor, customs)}</span>
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ol>
  );
}
