import { SALT_GRADE_FACTS, SALT_GRADES } from "@/lib/electrolysis";
import { formatWhen } from "@/lib/server";
import type { partById } from "@/lib/services";
import { GOAL_NAMES, GOALS, type PlanStep, type TreatmentPlan } from "@/lib/treatment";
import type { Worked } from "@/lib/units";
import {
  Empty,
  Figure,
  Figures,
  Form,
  formatNumber,
  Notice,
  Said,
  Section,
  SelectField,
  Submit,
  TankDrawing,
} from "@/app/ui";
import { lengthWords, type UnitSystem } from "../../measures";
import { makePlanAction } from "../actions";

type Part = Awaited<ReturnType<typeof partById>>;
type Props = {
  readonly part: Part;
  readonly shop: {
    readonly timeZone: string;
    readonly locale: string;
    readonly unitSystem: UnitSystem;
  };
  readonly mayPlan: boolean;
};

/** The plan: which tank, what bath, how long, what after; every figure opens its working. */
export function PlanSection({ part, shop, mayPlan }: Props) {
  const { plan } = part;
  const outdated = plan !== null && part.state === "TAKEN_IN";
  return (
    <Section title="Plan" id="plan">
      <div className="space-y-6">
        {plan === null ? <Empty>Not planned yet.</Empty> : null}
        {outdated ? (
          <Notice
            tone="brass"
            title="The part was changed after this plan was made: plan it anew."
          />
        ) : null}
        {plan ? (
          <>
            <p className="text-sm text-zinc">
              Version {plan.version}, {plan.madeBy.name}, {formatWhen(plan.madeAt, shop)}
            </p>
            <PlanAnswer plan={plan.result} units={shop.unitSystem} />
            <PlanFigures plan={plan.result} />
            <PlanSteps steps={plan.result.steps} />
            <NotTaken plan={plan.result} />
          </>
        ) : null}
        {mayPlan ? <PlanForm part={part} /> : null}
      </div>
    </Section>
  );
}

type PlanProps = { readonly plan: TreatmentPlan; readonly units: UnitSystem };

function PlanAnswer({ plan, units }: PlanProps) {
  const { hours, hoursWithInnerAnode } = plan;
  return (
    <div className="space-y-3">
      <p className="text-2xl font-semibold">
        {plan.tankName}: about {formatNumber(hours.p50)} h, nine in ten within{" "}
        {formatNumber(hours.p90)} h
      </p>
      <div className="grid items-center gap-4 sm:grid-cols-[minmax(0,18rem)_1fr]">
        <TankDrawing
          name={plan.tankName}
          shape={plan.shape}
          levelMm={plan.levelMm}
          state="still"
          part={{ alongMm: plan.lie.along, upMm: plan.lie.up }}
          anode
        />
        <p>
          <Said>{plan.lieWords}</Said> Level with the part in: {lengthWords(plan.levelMm, units)}.
        </p>
      </div>
      {hoursWithInnerAnode ? (
        <Notice
          tone="bath"
          title={`With an anode hung inside: about ${formatNumber(hoursWithInnerAnode.p50)} h, nine in ten within ${formatNumber(hoursWithInnerAnode.p90)} h`}
        >
          <p>
            The inside lags behind. Steel hung inside, clear of the part, lets it keep up: choose it
            below and plan anew.
          </p>
        </Notice>
      ) : null}
      {plan.innerAnode ? (
        <Notice tone="bath" title="Planned with an anode hung inside">
          <p>
            <Said>{`${plan.innerAnode.replace(/\.$/, "")}.`}</Said> It must not touch the part.
          </p>
        </Notice>
      ) : null}
      <p className="text-zinc">
        {plan.fieldCells
          ? `Current and hours rest on the field of this part in this tank, worked out on about ${Math.round(plan.fieldCells / 1000)} thousand cells.`
          : "Current and hours rest on closed forms and on the usual lag of an inside."}
      </p>
      {plan.reliefBake ? (
        <Notice
          tone="brass"
          title={
            <Said>{`Relief bake afterwards: ${plan.reliefBake.hours} h at {${plan.reliefBake.leastC} to ${plan.reliefBake.mostC} °C}`}</Said>
          }
        >
          <p>
            Begun within {plan.reliefBake.startWithinHours} h of pulling. ASTM B850-98 table,
            guidance only.
          </p>
        </Notice>
      ) : null}
      {plan.warnings.map((warning) => (
        <Notice key={warning} tone="brass" title={<Said>{warning}</Said>} />
      ))}
    </div>
  );
}

function PlanFigures({ plan }: Pick<PlanProps, "plan">) {
  const { figures } = plan;
  const shown: readonly (Worked | null)[] = [
    figures.hours,
    figures.hoursOutside,
    figures.hoursInside,
    figures.areaM2,
    figures.massG,
    figures.solutionL,
    figures.saltG,
    figures.conductivitySPerM,
    figures.currentA,
    figures.densityAPerM2,
    figures.chargeAh,
    figures.hydrogenL,
    figures.airM3PerH,
    figures.openingCm2,
    figures.closedRoomH,
    figures.heatW,
    figures.bathEndC ?? null,
    figures.waterL ?? null,
    figures.dewPointC ?? null,
    figures.anodeLossG,
    figures.energyKwh,
  ];
  return (
    <div className="space-y-3">
      <Figures>
        {shown
          .filter((figure) => figure !== null)
          .map((figure) => (
            <Figure key={figure.name} worked={figure} />
          ))}
      </Figures>
      <p>
        <span className="text-zinc">In the kitchen: </span>
        {figures.kitchen}
      </p>
      <p>
        <span className="text-zinc">Share of what the supply carries all day: </span>
        {Math.round(plan.ratingShare * 100)} %
      </p>
    </div>
  );
}

const WHEN = { BEFORE: "Before the bath", BATH: "In the bath", AFTER: "After the bath" } as const;

function PlanSteps({ steps }: { readonly steps: readonly PlanStep[] }) {
  return (
    <div className="grid gap-4 lg:grid-cols-3">
      {(["BEFORE", "BATH", "AFTER"] as const).map((when) => (
        <div key={when} className="plate p-4">
          <h3 className="mb-2 font-semibold">{WHEN[when]}</h3>
          <ol className="list-decimal space-y-2 pl-5">
            {steps
              .filter((step) => step.when === when)
              .map((step) => (
                <li key={step.title}>
                  <span className="font-medium">{step.title}.</span> <Said>{step.detail}</Said>
                  {step.caution ? <span className="block text-oxide">{step.caution}</span> : null}
                </li>
              ))}
          </ol>
        </div>
      ))}
    </div>
  );
}

function NotTaken({ plan }: { readonly plan: TreatmentPlan }) {
  if (plan.notTaken.length === 0) return null;
  return (
    <details>
      <summary className="min-h-11 py-2 font-medium">Why not another tank</summary>
      <ul className="list-disc space-y-1 pl-5">
        {plan.notTaken.map(({ tankId, name, why }) => (
          <li key={tankId}>
            <span className="font-medium">{name}.</span> <Said>{why}</Said>
          </li>
        ))}
      </ul>
    </details>
  );
}

function PlanForm({ part }: { readonly part: Part }) {
  const others = part.plan?.result.notTaken ?? [];
  const chosen = part.plan ? [{ value: part.plan.tankId, label: part.plan.result.tankName }] : [];
  return (
    <Form action={makePlanAction} label="Plan" className="plate space-y-4 p-4">
      <input type="hidden" name="id" value={part.id} />
      <div className="grid gap-4 sm:grid-cols-2">
        <SelectField
          name="goal"
          label="Wanted"
          options={GOALS.map((value) => ({ value, label: GOAL_NAMES[value] }))}
          defaultValue={part.goal}
          required
        />
        <SelectField
          name="saltGrade"
          label="Soda for a fresh bath"
          options={SALT_GRADES.map((value) => ({ value, label: SALT_GRADE_FACTS[value].name }))}
          defaultValue={part.plan?.result.saltGrade ?? "SODA_ASH_LIGHT"}
          required
        />
        <SelectField
          name="tankId"
          label="Tank"
          options={[
            { value: "", label: "the one that suits best" },
            ...chosen,
            ...others.map(({ tankId, name }) => ({ value: tankId, label: name })),
          ]}
        />
        <SelectField
          name="innerAnode"
          label="Hung inside the part"
          options={[
            { value: "no", label: "nothing" },
            { value: "yes", label: "an anode, clear of the part" },
          ]}
          defaultValue={part.plan?.result.innerAnode ? "yes" : "no"}
        />
      </div>
      <Submit kind={part.plan ? "plain" : "main"}>
        {part.plan ? "Plan it anew" : "Plan the treatment"}
      </Submit>
    </Form>
  );
}
