import type { Answers } from "@/lib/diagnosis";
import { formatTime, formatWhen } from "@/lib/server";
import { Figure, Figures, Form, LinkButton, Section, Submit, TextLink } from "@/app/ui";
import { HowItHangs } from "../../how-it-hangs";
import { ChargeBar, pullWords } from "../../tanks/tank-card";
import { undoLoadAction } from "./actions";
import { CurrentChart } from "./current-chart";
import { PartsList } from "./parts-list";
import { WaitingReadings } from "./reading-form";
import { ReadingsTable } from "./readings-table";
import type { StepProps } from "./step-props";
import { WhatMayBeWrong } from "./what-may-be-wrong";

type Props = StepProps & { readonly works: boolean; readonly answers: Answers };

/** A load under current: when to pull, what the meter says of it, and the two things to do. */
export function RunningStep({ view, shop, now, works, answers }: Props) {
  const { run, progress, readings } = view;
  const lookNow = progress.nextLookAt <= now;
  return (
    <>
      <div className="space-y-3">
        <p className="text-2xl leading-snug font-semibold">
          {pullWords({ run, progress }, now, shop)}
        </p>
        <ChargeBar
          share={progress.share}
          charge={progress.charge.value}
          target={progress.targetAh}
        />
        <p className="text-zinc">
          {progress.from === "readings"
            ? "By the readings so far, if the current stays as it is."
            : "By the plan: no reading was taken yet."}{" "}
          Booked until {formatWhen(run.endsAt, shop)}.
        </p>
      </div>
      <Figures>
        {[progress.left, progress.charge, view.energy]
          .filter((figure) => figure !== null)
          .map((figure) => (
            <Figure key={figure.name} worked={figure} />
          ))}
      </Figures>
      {works ? <WaitingReadings runId={run.id} /> : null}
      <WhatMayBeWrong runId={run.id} progress={progress} answers={answers} />
      {works ? (
        <div className="grid gap-3 sm:grid-cols-2">
          <LinkButton
            href={`/runs/${run.id}?step=reading`}
            kind={progress.due ? "plain" : "main"}
            size="bench"
          >
            Take a reading
          </LinkButton>
          <LinkButton
            href={`/runs/${run.id}?step=pull`}
            kind={progress.due ? "main" : "plain"}
            size="bench"
          >
            Pull
          </LinkButton>
          <p className={lookNow ? "font-medium text-brass" : "text-zinc"}>
            {lookNow
              ? "◆ Read the meter now."
              : `Next look at ${formatTime(progress.nextLookAt, shop)}.`}
          </p>
        </div>
      ) : null}
      <Section title="Current" id="current">
        <CurrentChart run={run} readings={readings} untilMs={now.getTime()} />
        <ReadingsTable readings={readings} shop={shop} />
      </Section>
      <Section title="In the bath" id="parts">
        <div className="space-y-3">
          <HowItHangs layout={view.layout} tank={view.tank} units={shop.unitSystem} />
          <PartsList view={view} />
        </div>
        <p className="mt-2 text-zinc">
          Loaded {run.loadedAt ? formatWhen(run.loadedAt, shop) : ""} by {run.acknowledgedBy?.name},
          who made the safety check.{" "}
          <TextLink href={`/tanks/${view.tank.id}#bath`}>Top up the bath</TextLink>
        </p>
      </Section>
      {view.undoable === "load" && works ? (
        <Form action={undoLoadAction} label="Take the loading back">
          <input type="hidden" name="runId" value={run.id} />
          <Submit kind="plain">It is not in: take that back</Submit>
        </Form>
      ) : null}
    </>
  );
}
