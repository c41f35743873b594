import { Section, TextLink } from "@/app/ui";
import { lengthWords } from "../../measures";
import { ReadingForm } from "./reading-form";
import type { StepProps } from "./step-props";

/** One reading: what the meter, the thermometer and the rule show. */
export function ReadingStep({ view: { run, tank }, shop }: StepProps) {
  return (
    <Section title="Take a reading" id="reading">
      <p className="mb-4">
        Expected: {run.currentLowA.toFixed(1)} to {run.currentHighA.toFixed(1)} A; level{" "}
        {lengthWords(tank.workingLevelMm, shop.unitSystem)}.
      </p>
      <ReadingForm runId={run.id} />
      <p className="mt-4">
        <TextLink href={`/runs/${run.id}`}>Back to the run</TextLink>
      </p>
    </Section>
  );
}
