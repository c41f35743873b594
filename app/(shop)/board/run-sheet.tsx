"use client";

import type { BoardRun, Lane, TimeBoard } from "@/lib/services";
import {
  Badge,
  Button,
  Confirm,
  Facts,
  Form,
  formatNumber,
  LinkButton,
  Submit,
  TextLink,
} from "@/app/ui";
import { cancelAction, fixAction, takeOnAction } from "./actions";
import { type Clock, lengthWords } from "./clock";
import { stretchesOf } from "./run-shape";
import { Sheet } from "./sheet";
import { capital, daysLate, dueOf, lateWords, loadName, type RunTone, standingOf } from "./words";

const TONE: Readonly<Record<RunTone, "ink" | "bath" | "brass" | "zinc">> = {
  booked: "ink",
  running: "bath",
  over: "brass",
  pulled: "brass",
  finished: "zinc",
};

type RunSheetProps = {
  readonly run: BoardRun;
  readonly lane: Lane;
  readonly board: TimeBoard;
  readonly nowMs: number;
  readonly clock: Clock;
  readonly me: string;
  readonly moves: boolean;
  readonly onMove: () => void;
  readonly onClose: () => void;
};

/** One run: what is in it, when, for whom, and what can be done with it. */
export function RunSheet(props: RunSheetProps) {
  const { run, lane, board, nowMs, clock, moves, onMove, onClose } = props;
  const standing = standingOf(run, nowMs);
  const stretches = stretchesOf(run, board, nowMs);
  const late = lateWords(daysLate(stretches.benchUntilMs, dueOf(run.parts), clock.timeZone));
  const planned = run.state === "PLANNED";
  return (
    <Sheet
      title={loadName(run.parts)}
      kicker={`Run ${run.number} in ${lane.name}`}
      onClose={onClose}
    >
      <p className="flex flex-wrap gap-2">
        <Badge tone={TONE[standing.tone]}>{standing.words}</Badge>
        {late ? <Badge tone="oxide">{late}</Badge> : null}
        {run.fixed ? <Badge tone="ink">fixed</Badge> : null}
      </p>
      {moves && planned ? (
        <Button type="button" size="bench" className="w-full" onClick={onMove}>
          Move
        </Button>
      ) : null}
      <p className="grid">
        <LinkButton href={`/runs/${run.id}`} size="bench">
          Open the run
        </LinkButton>
      </p>
      <Times {...{ run, board, nowMs, clock }} />
      <Parts run={run} clock={clock} />
      {moves && (planned || run.state === "RUNNING") ? <Marks {...props} /> : null}
      {moves && planned ? (
        <Confirm
          label="Cancel this run"
          question="The tank is free again, and the parts wait for another time."
          action={cancelAction}
          confirm="Cancel the run"
        >
          <input type="hidden" name="runId" value={run.id} />
        </Confirm>
      ) : null}
    </Sheet>
  );
}

function Times({
  run,
  board,
  nowMs,
  clock,
}: Pick<RunSheetProps, "run" | "board" | "nowMs" | "clock">) {
  const at = stretchesOf(run, board, nowMs);
  const waitMs = at.pullAtMs - at.treatedAtMs;
  return (
    <Facts
      facts={[
        { label: "Load", value: clock.when(at.startsAtMs) },
        { label: run.state === "PULLED" ? "Pulled" : "Pull", value: clock.when(at.pullAtMs) },
        { label: "Out", value: clock.when(at.endsAtMs) },
        { label: "Under current", value: lengthWords(run.treatHours * 3_600_000) },
        {
          label: "Waits for the pull",
          value: run.state === "PLANNED" && waitMs > 60_000 ? lengthWords(waitMs) : null,
        },
        {
          label: "On the bench",
          value: run.benchMinutes > 0 ? `${formatNumber(run.benchMinutes)} min` : null,
        },
        { label: "Current", value: `${run.currentA.toFixed(1)} A` },
        { label: "Charge", value: `${formatNumber(run.chargeAh)} A·h` },
        { label: "Who takes it", value: run.assignedTo?.name ?? "whoever is there" },
      ]}
    />
  );
}

function Parts({ run, clock }: Pick<RunSheetProps, "run" | "clock">) {
  return (
    <ul aria-label="Parts in it" className="divide-y divide-line border-y border-line">
      {run.parts.map((part) => (
        <li key={part.dipId} className="py-2 leading-8">
          <TextLink href={`/parts/${part.partId}`}>
            {part.mark}: {part.quantity > 1 ? `${part.quantity} × ` : ""}
            {part.description}
          </TextLink>
          {part.ends > 1 ? `, end ${part.end} of ${part.ends}` : ""}
          <span className="block text-sm text-zinc">
            <TextLink href={`/jobs/${part.jobId}`}>Job {part.jobNumber}</TextLink>
            {part.rush ? ", rush" : ""}
            {part.dueMs === null
              ? ", nothing promised"
              : `, promised for ${clock.day(part.dueMs - 1)}`}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** Whether it stays where it is, and who loads and pulls it. */
function Marks({ run, me }: RunSheetProps) {
  const mine = run.assignedTo?.id === me;
  return (
    <div className="grid gap-3">
      <Form action={fixAction} label="Fix the run" className="grid gap-2">
        <input type="hidden" name="runId" value={run.id} />
        <input type="hidden" name="fixed" value={run.fixed ? "no" : "yes"} />
        <Submit kind="plain" className="min-h-12">
          {run.fixed ? "Let it move" : "Fix in place"}
        </Submit>
      </Form>
      <Form action={takeOnAction} label="Who takes it" className="grid gap-2">
        <input type="hidden" name="runId" value={run.id} />
        <input type="hidden" name="mine" value={mine ? "no" : "yes"} />
        <Submit kind="plain" className="min-h-12">
          {mine ? "Leave it to others" : "Take it on"}
        </Submit>
      </Form>
    </div>
  );
}

/** @example nameOf(run) // "Run 12, Skillet" */
export const nameOf = (run: BoardRun): string =>
  `${capital(`run ${run.number}`)}, ${loadName(run.parts)}`;
