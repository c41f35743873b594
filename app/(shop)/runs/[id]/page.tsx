import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatTime, requireActor, shopSettings, load } from "@/lib/server";
import { seeRun } from "@/lib/services";
import { Badge, Notice, Page, TextLink } from "@/app/ui";
import { LiveMark } from "../../live/live-mark";
import { loadWords, RUN_STATE } from "../../words";
import { parseAnswers } from "./answers";
import { Booking } from "./booking";
import { FinishStep } from "./finish-step";
import { History } from "./history";
import { PullStep } from "./pull-step";
import { ReadingStep } from "./reading-step";
import { ReliefBakes } from "./relief-bakes";
import { RunningStep } from "./running-step";
import { SafetyStep } from "./safety-step";

export const metadata: Metadata = { title: "Run" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ step?: string; seen?: string | string[] }>;
};

/** The bench's screen of one load: one task at a time, from the safety check to the finish. */
export default async function RunPage({ params, searchParams }: Props) {
  const actor = await requireActor();
  const { id } = await params;
  const { step, seen } = await searchParams;
  const answers = parseAnswers(seen);
  const shop = await shopSettings();
  const now = new Date();
  const view = await load(() => seeRun(actor, id, now, answers));
  const { run, tank } = view;
  const works = may(actor, "work-runs");
  const state = RUN_STATE[run.state];
  const words = loadWords(run);
  const shared = { view, shop, now };
  return (
    <Page
      title={`${words.charAt(0).toUpperCase()}${words.slice(1)}`}
      kicker={
        <>
          <TextLink href="/runs">Run {run.number}</TextLink> in{" "}
          <TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink>
        </>
      }
      narrow
    >
      <div className="flex flex-wrap items-center justify-between gap-2">
        {state ? <Badge tone={state.tone}>{state.word}</Badge> : null}
        <LiveMark asOf={formatTime(now, shop)} />
      </div>
      {run.notes ? <Notice tone="zinc">{run.notes}</Notice> : null}
      <ReliefBakes {...shared} works={works} />
      {run.state === "PLANNED" && works && step === "safety" ? <SafetyStep {...shared} /> : null}
      {run.state === "PLANNED" && step !== "safety" ? (
        <Booking {...shared} works={works} books={may(actor, "book")} />
      ) : null}
      {run.state === "RUNNING" && works && step === "reading" ? <ReadingStep {...shared} /> : null}
      {run.state === "RUNNING" && works && step === "pull" ? <PullStep {...shared} /> : null}
      {run.state === "RUNNING" && step !== "reading" && step !== "pull" ? (
        <RunningStep {...shared} works={works} answers={answers} />
      ) : null}
      {run.state === "PULLED" && works ? <FinishStep {...shared} /> : null}
      {run.state === "PULLED" || run.state === "FINISHED" ? <History {...shared} /> : null}
      {run.state === "CANCELLED" ? (
        <p>This booking was cancelled; its parts wait for a tank again.</p>
      ) : null}
    </Page>
  );
}
