import { formatDuration } from "@/lib/server";
import { CheckField, Form, Notice, Section, Submit, TextLink } from "@/app/ui";
import { pullAction } from "./actions";
import type { StepProps } from "./step-props";

/** Switch off first, then lift: what the shop then counts as the end of the run. */
export function PullStep({ view: { run, progress }, now }: StepProps) {
  const left = progress.pullAt ? progress.pullAt.getTime() - now.getTime() : 0;
  return (
    <Section title="Pull" id="pull">
      <Form action={pullAction} label="Pull the load">
        <input type="hidden" name="runId" value={run.id} />
        {left > 0 && !progress.due ? (
          <Notice
            tone="brass"
            title={`${Math.round(100 * progress.share)} % of its charge has passed`}
          >
            About {formatDuration(left)} more were planned. Pull it all the same if it is clean, or
            if something is wrong.
          </Notice>
        ) : null}
        <ol className="list-decimal space-y-2 pl-6 text-lg">
          <li>Switch the supply off, at the wall too.</li>
          <li>Gloves on. Take the clips off, then lift the load and let it drip over the tank.</li>
          <li>Rinse, brush, dry and protect it at once: bare iron rusts within the hour.</li>
        </ol>
        <div className="plate px-4 py-1">
          <CheckField name="supplyOff" label={<strong>The supply is off.</strong>} required />
        </div>
        <Submit size="bench" className="w-full">
          It is out
        </Submit>
      </Form>
      <p className="mt-4">
        <TextLink href={`/runs/${run.id}`}>Not yet</TextLink>
      </p>
    </Section>
  );
}
