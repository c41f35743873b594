import { Badge, Said, TextLink } from "@/app/ui";
import { DIP_RESULT } from "../../words";
import type { StepProps } from "./step-props";

/** What is in the load, how each part would lie where no drawing shows it, and how it came out once that is known. */
export function PartsList({ view: { run, layout } }: Pick<StepProps, "view">) {
  const drawn = layout?.packing.packed === true;
  return (
    <ul className="plate divide-y divide-line">
      {run.dips.map(({ id, part, plan, end, result, resultNote }) => (
        <li key={id} className="space-y-1 p-3">
          <p className="flex flex-wrap items-center justify-between gap-2">
            <span>
              <TextLink href={`/parts/${part.id}`}>
                {part.job.number}-{part.mark}
              </TextLink>{" "}
              {part.quantity > 1 ? `${part.quantity} × ` : ""}
              {part.description}
              {plan.dipCount > 1 ? `, end ${end} of ${plan.dipCount}` : ""}
            </span>
            {result && DIP_RESULT[result] ? (
              <Badge tone={DIP_RESULT[result].tone}>{DIP_RESULT[result].word}</Badge>
            ) : null}
          </p>
          {result ? (
            <p className="text-zinc">{resultNote}</p>
          ) : drawn ? null : (
            <p className="text-zinc">
              <Said>{plan.result.lieWords}</Said>
            </p>
          )}
        </li>
      ))}
    </ul>
  );
}
