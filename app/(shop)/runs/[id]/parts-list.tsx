import { Badge, TextLink } from "@/app/ui";
import { DIP_RESULT } from "../../words";
import type { StepProps } from "./step-props";

/** What is in the load, how it lies, and how it came out once that is known. */
export function PartsList({ view: { run } }: Pick<StepProps, "view">) {
  return (
    <ul className="plate divide-y divide-line">
      {run.dips.map(({ id, part, plan, end, result, resultNote }) => (
        <li key={id} className="space-y-1 p-3">
          <p className="flex flex-wrap items-center justify-between gap-2">
            <span>
              <TextLink href={`/parts/${part.id}`}>
                {part.job.number}-{part.mark}
              </TextLink>{" "}
              {part.description}
              {plan.dipCount > 1 ? `, end ${end} of ${plan.dipCount}` : ""}
            </span>
            {result && DIP_RESULT[result] ? (
              <Badge tone={DIP_RESULT[result].tone}>{DIP_RESULT[result].word}</Badge>
            ) : null}
          </p>
          {result ? (
            <p className="text-zinc">{resultNote}</p>
          ) : (
            <p className="text-zinc">{plan.result.lieWords}</p>
          )}
        </li>
      ))}
    </ul>
  );
}
