import type { LearnedClass } from "@/lib/services";
import type { Worked } from "@/lib/units";
import { Figure, Figures, formatNumber, Table } from "@/app/ui";

type Props = { readonly mean: Worked; readonly classes: readonly LearnedClass[] };

/** The factor on the model's hours of each class of parts: a table of all, and each with its working. */
export function HoursLearned({ mean, classes }: Props) {
  return (
    <div className="space-y-4">
      <Table
        caption="Hours over the model’s, by class of parts"
        rows={classes}
        rowKey={({ key }) => key}
        columns={[
          {
            head: "Parts",
            cell: ({ name }) => <span className="inline-block first-letter:uppercase">{name}</span>,
          },
          {
            head: "Factor",
            numeric: true,
            cell: ({ factor }) => `× ${formatNumber(factor.value)}`,
          },
          {
            head: "Next part, P10 to P90",
            numeric: true,
            cell: ({ factor }) => rangeWords(factor),
          },
          {
            head: "Runs",
            numeric: true,
            cell: ({ runs, bounds }) => (
              <>
                {runs}
                {bounds > 0 ? (
                  <span className="block text-sm whitespace-nowrap text-zinc">
                    {bounds} by a bound
                  </span>
                ) : null}
              </>
            ),
          },
          {
            head: "Rests on the shop’s mean",
            numeric: true,
            wideOnly: true,
            cell: ({ pooled }) => `${Math.round(100 * pooled)} %`,
          },
        ]}
      />
      <Figures>
        <Figure worked={mean} />
        {classes.map(({ key, factor }) => (
          <Figure key={key} worked={factor} />
        ))}
      </Figures>
    </div>
  );
}

function rangeWords({ low, high }: Worked): string {
  return low === undefined || high === undefined
    ? "–"
    : `${formatNumber(low)} to ${formatNumber(high)}`;
}
