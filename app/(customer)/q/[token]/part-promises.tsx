import type { OfferedOption } from "@/lib/services";

/** Each part: what will be done, how long it takes, and what to know. */
export function PartPromises({
  promises,
  heading: Heading = "h3",
}: {
  readonly promises: OfferedOption["promises"];
  /** its level follows from where the list stands */
  readonly heading?: "h3" | "h4";
}) {
  return (
    <ul className="space-y-4">
      {promises.map((promise) => (
        <li key={promise.mark} className="plate space-y-2 p-4">
          <Heading className="text-lg font-semibold">
            {promise.mark}: {promise.quantity > 1 ? `${promise.quantity} × ` : ""}
            {promise.description}
          </Heading>
          <p>{promise.work}</p>
          <p className="text-zinc">
            Usually {promise.hours}; rust does not say beforehand how deep it goes.
          </p>
          {promise.cautions.length > 0 ? (
            <details>
              <summary className="flex min-h-11 items-center text-bath underline underline-offset-3">
                What to know about this part
              </summary>
              <ul className="list-disc space-y-1 pl-5">
                {promise.cautions.map((caution) => (
                  <li key={caution}>{caution}</li>
                ))}
              </ul>
            </details>
          ) : null}
        </li>
      ))}
    </ul>
  );
}
