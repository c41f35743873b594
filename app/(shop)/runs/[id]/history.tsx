import { formatDuration, formatWhen } from "@/lib/server";
import { Facts, Figure, Figures, Section } from "@/app/ui";
import { CurrentChart } from "./current-chart";
import { PartsList } from "./parts-list";
import { ReadingsTable } from "./readings-table";
import type { StepProps } from "./step-props";

/** What a run was, once it is out. */
export function History({ view, shop }: StepProps) {
  const { run, readings, progress, energy } = view;
  const { loadedAt, pulledAt } = run;
  return (
    <>
      <Section title="How it went" id="went">
        <div className="plate p-4">
          <Facts
            facts={[
              { label: "Loaded", value: loadedAt && formatWhen(loadedAt, shop) },
              { label: "Pulled", value: pulledAt && formatWhen(pulledAt, shop) },
              {
                label: "Under current",
                value:
                  loadedAt && pulledAt && formatDuration(pulledAt.getTime() - loadedAt.getTime()),
              },
              { label: "Charge planned", value: `${run.targetChargeAh.toFixed(1)} A·h` },
              { label: "Safety check by", value: run.acknowledgedBy?.name },
            ]}
          />
        </div>
        <Figures>
          <Figure worked={progress.charge} />
          <Figure worked={energy} />
        </Figures>
      </Section>
      <PartsList view={view} />
      <Section title="Current" id="current">
        <CurrentChart run={run} readings={readings} untilMs={(pulledAt ?? run.endsAt).getTime()} />
        <ReadingsTable readings={readings} shop={shop} />
      </Section>
    </>
  );
}
