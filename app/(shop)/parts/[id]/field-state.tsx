import type { FieldOfPart } from "@/lib/services";
import { Form, formatNumber, Notice, Said, Submit } from "@/app/ui";
import { askFieldAgainAction } from "./field-actions";
import { FieldFollow } from "./field-follow";

type Props = {
  readonly partId: string;
  readonly field: FieldOfPart | null;
  readonly mayAsk: boolean;
};

/** How the field of the plan stands: waiting, being worked out, there, of before a change, or why there is none. */
export function FieldState({ partId, field, mayAsk }: Props) {
  const shown = field?.wanted ? field : null;
  return (
    <div className="space-y-4">
      {shown || !field ? (
        <FieldFollow
          partId={partId}
          fieldId={field?.id ?? null}
          stamp={field?.stamp ?? null}
          state={shown?.state ?? null}
          progress={shown?.progress ?? 0}
        />
      ) : null}
      {shown?.state === "FAILED" ? (
        <Notice
          tone="oxide"
          title={<Said>{`The field could not be worked out. ${shown.why}`}</Said>}
        >
          {mayAsk ? (
            <Form action={askFieldAgainAction} label="Work the field out again">
              <input type="hidden" name="id" value={partId} />
              <Submit kind="plain">Work it out again</Submit>
            </Form>
          ) : null}
        </Notice>
      ) : null}
      {field?.findings ? <Found {...field} findings={field.findings} /> : null}
    </div>
  );
}

type FoundProps = Pick<FieldOfPart, "outdated"> & {
  readonly findings: NonNullable<FieldOfPart["findings"]>;
};

function Found({ findings, outdated }: FoundProps) {
  const { outside, inside } = findings.planned.hours;
  const hours = inside
    ? `outside about ${formatNumber(outside.p50)} h, inside about ${formatNumber(inside.p50)} h`
    : `about ${formatNumber(outside.p50)} h`;
  return (
    <>
      {outdated ? (
        <Notice
          tone="brass"
          title="What is stored of the field is of before the last change of tank, anode or part."
        />
      ) : null}
      <p>
        <span className="text-zinc">By the field, stored with the plan: </span>
        {hours} in one dip.
      </p>
    </>
  );
}
