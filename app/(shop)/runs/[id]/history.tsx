import { formatDuration, formatWhen } from "@/lib/server";
import { Facts, Section } from "@/app/ui";
import { CurrentChart } from "./current-chart";
import { PartsList } from "./parts-list";
import { ReadingsTable } from "./readings-table";
import type { StepProps } from "./step-props";

/** What a run was, once it is out. */
export function History({ view, shop }: StepProps) {
  const { run, readings } = view;
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
              {
                label: readings.length > 0 ? "Charge, by the readings" : "Charge, by the plan",
                value:
                  run.chargeAh === null
                    ? null
                    : `${run.chargeAh.toFixed(1)} of ${run.targetChargeAh.toFixed(1)} A·h planned`,
              },
              {
                label: "Energy at the wall",
                value: run.energyKwh === null ? null : `${run.energyKwh.toFixed(2)} kW·h`,
              },
              { label: "Safety check by", value: run.acknowledgedBy?.name },
            ]}
          />
        </div>
      </Section>
      <PartsList view={view} />
      <Section title="Current" id="current">
        <CurrentChart run={run} readings={readings} untilMs={(pulledAt ?? run.endsAt).getTime()} />
        <ReadingsTable readings={readings} shop={shop} />
      </Section>
    </>
  );
}
