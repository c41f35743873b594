import { randomUUID } from "node:crypto";
import { LABOUR_TASKS } from "@/lib/pricing";
import { Form, NumberField, SelectField, Submit } from "@/app/ui";
import { labourAction } from "./actions";

type Part = { readonly id: string; readonly mark: string; readonly description: string };

type Props = { readonly jobId: string; readonly parts: readonly Part[] };

/** Minutes worked beside what the runs write down by themselves. A repeated tap writes once. */
export function LabourForm({ jobId, parts }: Props) {
  return (
    <Form action={labourAction} label="Write down minutes" clearWhenDone>
      <input type="hidden" name="jobId" value={jobId} />
      <input type="hidden" name="idempotencyKey" value={randomUUID()} />
      <div className="grid gap-4 sm:grid-cols-3">
        <NumberField name="minutes" label="Minutes" unit="min" large required />
        <SelectField
          name="task"
          label="Doing what"
          options={LABOUR_TASKS.map((task) => ({ value: task, label: task }))}
          defaultValue="other"
          required
        />
        <SelectField
          name="partId"
          label="On which part"
          options={[
            { value: "", label: "the job as a whole" },
            ...parts.map(({ id, mark, description }) => ({
              value: id,
              label: `${mark}: ${description}`,
            })),
          ]}
          defaultValue=""
          required
        />
      </div>
      <Submit size="bench">Write it down</Submit>
    </Form>
  );
}
