/** What a run's stretch of time is made of, and how it is drawn as a section of a vessel. Pure; px and epoch ms. */
import type { BoardRun, TimeBoard } from "@/lib/services";

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** The instants of a run, never falling: loading, current on, current has done its work, pull, out, off the bench. */
export type Stretches = {
  readonly startsAtMs: number;
  readonly loadedAtMs: number;
  readonly treatedAtMs: number;
  readonly pullAtMs: number;
  readonly endsAtMs: number;
  readonly benchUntilMs: number;
};

type Bench = Pick<TimeBoard, "loadMinutes" | "pullMinutes">;
type Timed = Pick<BoardRun, "startsAtMs" | "endsAtMs" | "treatHours" | "benchMinutes"> & {
  readonly state?: BoardRun["state"];
};

/** @param nowMs a run that should be out by now is drawn up to now */
export function stretchesOf(run: Timed, bench: Bench, nowMs: number): Stretches {
  const { startsAtMs } = run;
  const overrun = run.state === "RUNNING" && run.endsAtMs < nowMs;
  const endsAtMs = Math.max(startsAtMs, overrun ? nowMs : run.endsAtMs);
  const loadedAtMs = Math.min(endsAtMs, startsAtMs + bench.loadMinutes * MINUTE_MS);
  const pullAtMs = Math.max(loadedAtMs, endsAtMs - (overrun ? 0 : bench.pullMinutes * MINUTE_MS));
  const treatedAtMs = Math.min(pullAtMs, loadedAtMs + Math.round(run.treatHours * HOUR_MS));
  const benchUntilMs = endsAtMs + Math.round(run.benchMinutes * MINUTE_MS);
  return { startsAtMs, loadedAtMs, treatedAtMs, pullAtMs, endsAtMs, benchUntilMs };
}

/** px along time from the run's start. */
export type Cuts = {
  readonly loaded: number;
  readonly treated: number;
  readonly pull: number;
  readonly end: number;
  readonly bench: number;
};

export function cutsOf(stretches: Stretches, pxPerHour: number): Cuts {
  const px = (ms: number): number => ((ms - stretches.startsAtMs) / HOUR_MS) * pxPerHour;
  return {
    loaded: px(stretches.loadedAtMs),
    treated: px(stretches.treatedAtMs),
    pull: px(stretches.pullAtMs),
    end: px(stretches.endsAtMs),
    bench: px(stretches.benchUntilMs),
  };
}

/** Levels of the drawn liquid, from the top: under current it stands high, waiting for the pull it has sunk. */
export const levels = (height: number) => ({
  rim: 7,
  high: 7 + Math.max(3, 0.16 * (height - 9)),
  low: 7 + 0.58 * (height - 9),
  floor: height - 2,
});

/** The liquid of a run whose time lies across: it rises as the load goes in and falls as it is pulled. */
export function liquidAcross(cuts: Cuts, height: number): string {
  const { high, low, floor } = levels(height);
  const waits = cuts.pull - cuts.treated > 0.5;
  const sunk = waits ? `L ${px(cuts.treated)} ${px(low)} L ${px(cuts.pull)} ${px(low)}` : "";
  return `M 0 ${px(floor)} L ${px(cuts.loaded)} ${px(high)} L ${px(cuts.treated)} ${px(high)} ${sunk} L ${px(cuts.end)} ${px(floor)} Z`;
}

/** The waterline under current, with waves where it bubbles. */
export function waterline(from: number, until: number, level: number, lively: boolean): string {
  const length = until - from;
  if (!lively || length < 16) return `M ${px(from)} ${px(level)} H ${px(until)}`;
  const waves = Math.max(1, Math.round(length / 24));
  const half = length / waves / 2;
  const first = `M ${px(from)} ${px(level)} q ${px(half / 2)} -3.5 ${px(half)} 0`;
  return `${first}${` t ${px(half)} 0`.repeat(2 * waves - 1)}`;
}

/** Two digits do for a drawing, and halve what the page holds. */
export const px = (value: number): number => Math.round(value * 100) / 100;
