import { SAFETY_CHECKS } from "@/lib/services";
import { CheckField, Form, Notice, Section, Submit, TextLink } from "@/app/ui";
import { loadAction } from "./actions";
import type { StepProps } from "./step-props";

/** Each check is ticked by the person who loads; then the current goes on. */
export function SafetyStep({ view: { run } }: StepProps) {
  return (
    <Section title="Safety check" id="safety">
      <p className="mb-3">
        Look at each of them yourself, here and now. Local codes and licensed practice come first.
      </p>
      <Form action={loadAction} label="Safety check" className="space-y-3">
        <input type="hidden" name="runId" value={run.id} />
        {SAFETY_CHECKS.map(({ code, text, why }) => (
          <div key={code} className="plate px-4 py-1">
            <CheckField
              name="acknowledged"
              value={code}
              required
              label={
                <>
                  <strong>{text}</strong>
                  <span className="block text-sm text-zinc">{why}</span>
                </>
              }
            />
          </div>
        ))}
        <Notice tone="brass" title="Now hang the load, clip it, and switch on">
          The part on the negative clip, the anode on the positive one, clear of each other. Then
          say so here.
        </Notice>
        <Submit size="bench" className="w-full">
          It is in, the current is on
        </Submit>
      </Form>
      <p className="mt-4">
        <TextLink href={`/runs/${run.id}`}>Not yet</TextLink>
      </p>
    </Section>
  );
}
