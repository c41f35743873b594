import type { FieldOfPart } from "@/lib/services";
import type { FieldFindings, TreatmentPlan } from "@/lib/treatment";
import { Form, formatNumber, Notice, Said, Submit } from "@/app/ui";
import { makePlanAction } from "../actions";
import { askFieldAgainAction } from "./field-actions";
import { FieldFollow } from "./field-follow";

type Props = {
  readonly part: { readonly id: string; readonly goal: string };
  readonly field: FieldOfPart | null;
  readonly mayAsk: boolean;
  /** The plan, where it may be made anew. */
  readonly plan: TreatmentPlan | null;
};

/** How the field of the plan stands: waiting, being worked out, there, of before a change, or why there is none. */
export function FieldState({ part, field, mayAsk, plan }: Props) {
  const shown = field?.wanted ? field : null;
  return (
    <div className="space-y-4">
      {shown || !field ? (
        <FieldFollow
          partId={part.id}
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
              <input type="hidden" name="id" value={part.id} />
              <Submit kind="plain">Work it out again</Submit>
            </Form>
          ) : null}
        </Notice>
      ) : null}
      {field?.findings ? <Found {...field} findings={field.findings} /> : null}
      {mayAsk && plan && !plan.fieldCells && field?.findings && !field.outdated ? (
        <PlanByField part={part} plan={plan} findings={field.findings} />
      ) : null}
    </div>
  );
}

type PlanByFieldProps = Pick<Props, "part"> & {
  readonly plan: TreatmentPlan;
  readonly findings: FieldFindings;
};

/** The plan rests on closed forms, and the field is there: one press plans anew with it. */
function PlanByField({ part, plan, findings }: PlanByFieldProps) {
  const [best] = findings.innerAnodes;
  const { worst } = findings.planned.hours;
  return (
    <Notice
      tone="bath"
      title={`The field is there: about ${formatNumber(worst.p50 * plan.dips)} h, where the plan has ${formatNumber(plan.hours.p50)} h`}
    >
      {best ? (
        <p>
          <Said>{`${best.words}, {${best.clearanceMm} mm} clear`}</Said>: about{" "}
          {formatNumber(best.hours.worst.p50 * plan.dips)} h.
        </p>
      ) : null}
      <div className="flex flex-wrap gap-3 pt-2">
        <PlanAnew part={part} plan={plan} innerAnode="no">
          Plan by the field
        </PlanAnew>
        {best ? (
          <PlanAnew part={part} plan={plan} innerAnode="yes">
            Plan with the anode inside
          </PlanAnew>
        ) : null}
      </div>
    </Notice>
  );
}

type PlanAnewProps = Pick<Props, "part"> & {
  readonly plan: TreatmentPlan;
  readonly innerAnode: "yes" | "no";
  readonly children: string;
};

function PlanAnew({ part, plan, innerAnode, children }: PlanAnewProps) {
  return (
    <Form action={makePlanAction} label={children}>
      <input type="hidden" name="id" value={part.id} />
      <input type="hidden" name="goal" value={part.goal} />
      <input type="hidden" name="saltGrade" value={plan.saltGrade} />
      <input type="hidden" name="tankId" value={plan.tankId} />
      <input type="hidden" name="innerAnode" value={innerAnode} />
      <Submit kind="plain">{children}</Submit>
    </Form>
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
