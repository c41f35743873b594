/** What the board says of what it draws. Pure. */
import { dayAt } from "@/lib/scheduling";
import type { BoardHold, BoardPart, BoardRun, Lane } from "@/lib/services";
import { type Clock, lengthWords } from "./clock";
import type { Stretches } from "./run-shape";

const DAY_MS = 86_400_000;

export const HOLD_WORD: Readonly<Record<BoardHold["kind"], string>> = {
  BATH_CHANGE: "bath change",
  ANODE_CHANGE: "anode replacement",
  MAINTENANCE: "maintenance",
};

/** @example loadName(parts) // "Skillet and 2 more" */
export function loadName(parts: readonly BoardPart[]): string {
  const [first, ...rest] = parts;
  if (!first) return "no parts";
  const pieces = first.quantity > 1 ? `${first.quantity} × ` : "";
  const name = `${pieces}${first.description}`;
  return rest.length === 0 ? name : `${name} and ${rest.length} more`;
}

/** The earliest promise among a load's parts; null when nothing was promised. */
export function dueOf(parts: readonly BoardPart[]): number | null {
  const dues = parts.flatMap(({ dueMs }) => (dueMs === null ? [] : [dueMs]));
  return dues.length === 0 ? null : Math.min(...dues);
}

/** Calendar days by which a load leaves the bench after its promised day; 0 when it keeps it. */
export function daysLate(benchUntilMs: number, dueMs: number | null, timeZone: string): number {
  if (dueMs === null || benchUntilMs <= dueMs) return 0;
  // The promise ends with its day: the instant before that end still lies in it.
  const promised = Date.parse(`${dayAt(dueMs - 1, timeZone)}T00:00:00Z`);
  // Minutes on the bench are worked out, and seldom whole.
  const ready = Date.parse(`${dayAt(Math.round(benchUntilMs), timeZone)}T00:00:00Z`);
  return Math.max(1, Math.round((ready - promised) / DAY_MS));
}

/** @example lateWords(1) // "late by 1 day" */
export const lateWords = (days: number): string =>
  days === 0 ? "" : `late by ${days} ${days === 1 ? "day" : "days"}`;

export type RunTone = "booked" | "running" | "over" | "pulled" | "finished";

export type RunStanding = { readonly tone: RunTone; readonly words: string };

/** What a run is at, in words. */
export function standingOf(run: BoardRun, nowMs: number): RunStanding {
  switch (run.state) {
    case "RUNNING":
      return run.endsAtMs < nowMs
        ? { tone: "over", words: `running, over by ${lengthWords(nowMs - run.endsAtMs)}` }
        : { tone: "running", words: "running" };
    case "PLANNED":
      return run.startsAtMs < nowMs
        ? { tone: "over", words: "booked, should be in by now" }
        : { tone: "booked", words: "booked" };
    case "PULLED":
      return { tone: "pulled", words: "pulled, to finish" };
    default:
      return { tone: "finished", words: "finished" };
  }
}

/** Everything that a run's drawing shows, for who does not see it. */
export function runLabel(
  run: BoardRun,
  at: {
    readonly tank: string;
    readonly nowMs: number;
    readonly stretches: Stretches;
    readonly clock: Clock;
  },
): string {
  const { clock, stretches } = at;
  const late = daysLate(stretches.benchUntilMs, dueOf(run.parts), clock.timeZone);
  const waitMs = stretches.pullAtMs - stretches.treatedAtMs;
  return [
    `Run ${run.number}, ${loadName(run.parts)}, ${at.tank}`,
    `${clock.when(run.startsAtMs)} to ${clock.when(run.endsAtMs)}`,
    standingOf(run, at.nowMs).words,
    waitMs > 60_000 && run.state === "PLANNED" ? `waits ${lengthWords(waitMs)} for the pull` : "",
    run.fixed ? "fixed" : "",
    lateWords(late),
  ]
    .filter((words) => words !== "")
    .join(", ");
}

/** @example holdLabel(hold, "Long tank", clock) // "Bath change, Long tank: Tue 8 Dec 08:00 to Tue 8 Dec 10:00" */
export function holdLabel(hold: BoardHold, tank: string, clock: Clock): string {
  const word = capital(HOLD_WORD[hold.kind]);
  const done = hold.done ? ", done" : "";
  const note = hold.note ? `, ${hold.note}` : "";
  return `${word}, ${tank}: ${clock.when(hold.startsAtMs)} to ${clock.when(hold.endsAtMs)}${done}${note}`;
}

/** What a tank is at now, in words, and how urgent they are. */
export function laneStanding(
  lane: Lane,
  nowMs: number,
): { readonly words: string; readonly tone: "bath" | "brass" | "oxide" | "zinc" } {
  const running = lane.runs.find(({ state }) => state === "RUNNING");
  if (running) {
    const left = running.endsAtMs - nowMs;
    if (left < 0) return { words: `pull now, over by ${lengthWords(-left)}`, tone: "brass" };
    return { words: `running, out in ${lengthWords(left)}`, tone: "bath" };
  }
  const work = lane.holds.find(
    (hold) => !hold.done && hold.startsAtMs <= nowMs && nowMs < hold.endsAtMs,
  );
  if (work) return { words: HOLD_WORD[work.kind], tone: "zinc" };
  if (lane.lacks.length > 0) return { words: lane.lacks.join(", "), tone: "oxide" };
  return { words: "free", tone: "zinc" };
}

/** How old what one sees is. @example ageWords(190_000) // "3 min old" */
export function ageWords(ms: number): string {
  return ms < 60_000 ? "less than a minute old" : `${lengthWords(ms)} old`;
}

export const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
