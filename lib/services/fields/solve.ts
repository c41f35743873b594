import {
  beatPlanField,
  claimPlanField,
  failPlanField,
  type FieldClaim,
  finishPlanField,
  handBackPlanField,
  reading,
  setSceneKey,
} from "@/lib/data";
import { isRefusal } from "@/lib/errors";
import type { FieldFindings, FieldSubject } from "@/lib/treatment";
import { storable } from "./storable";
import { subjectNow } from "./subject";
import { inThread, Stopped, type ThreadOptions } from "../threads/thread";

/** A claim without a sign of life for so long is taken over, s. */
const SILENT_S = 180;
/** A sign of life is given at least this often, and progress written at most so often, ms. */
const BEAT_MS = 20_000;
const PROGRESS_MS = 500;
/** Longest that one field may take, ms. */
const MOST_MS = 10 * 60_000;
/** A field whose worker died so often is given up: it may be what kills it. */
const MOST_TRIES = 3;

export type SolveOptions = {
  /** Told to end: the field goes back into the queue. */
  readonly signal?: AbortSignal;
  /** Works it out; in a thread of its own when left out. */
  readonly solve?: (subject: FieldSubject, options: ThreadOptions) => Promise<FieldFindings>;
  readonly now?: () => Date;
};

const inOwnThread = (subject: FieldSubject, options: ThreadOptions): Promise<FieldFindings> =>
  inThread("field", { subject }, options);

/**
 * Takes the field that waits longest and works it out. Never throws for what is wrong with a field: why it failed is
 * kept with it, in words.
 *
 * @returns false where nothing waits
 * @throws only what the database itself throws
 */
export async function solveNextField(options: SolveOptions = {}): Promise<boolean> {
  const { signal, solve = inOwnThread, now = () => new Date() } = options;
  if (signal?.aborted) return false;
  const claim = await reading((db) => claimPlanField(db, SILENT_S, now()));
  if (!claim) return false;
  if (claim.tries > MOST_TRIES) {
    await fail(claim, `It did not come to an end ${MOST_TRIES} times. Ask again, or go without.`);
    return true;
  }
  try {
    await workOn(claim, solve, signal, now);
  } catch (error) {
    if (signal?.aborted) await reading((db) => handBackPlanField(db, claim));
    else await fail(claim, whyOf(error));
  }
  return true;

  async function fail(field: FieldClaim, why: string): Promise<void> {
    await reading((db) => failPlanField(db, field, why, now()));
  }
}

async function workOn(
  claim: FieldClaim,
  solve: NonNullable<SolveOptions["solve"]>,
  signal: AbortSignal | undefined,
  now: () => Date,
): Promise<void> {
  const asked = await reading((db) => subjectNow(db, claim.partId));
  if (typeof asked === "string") throw new RangeError(asked);
  const { subject, key } = asked;
  if (key !== claim.sceneKey && !(await reading((db) => setSceneKey(db, claim, key)))) return;
  const pulse = startPulse(claim, signal);
  try {
    const findings = storable(
      await solve(subject, { mostMs: MOST_MS, signal: pulse.signal, onProgress: pulse.progress }),
    );
    const found = { findings, sceneKey: key, finishedAt: now() };
    await reading((db) => finishPlanField(db, claim, found));
  } catch (error) {
    // Asked anew meanwhile, or taken over: this answer is not wanted, and the row is somebody else's.
    if (!pulse.lost()) throw error;
  } finally {
    await pulse.stop();
  }
}

/** Tells that somebody is at work, and how far; ends the work where the claim is lost. */
function startPulse(claim: FieldClaim, outer: AbortSignal | undefined) {
  const lost = new AbortController();
  let [share, written, writtenAt] = [0, 0, 0];
  let writing: Promise<void> = Promise.resolve();
  const beat = async (): Promise<void> => {
    const next = Math.min(1, Math.max(0, share));
    const held = await reading((db) => beatPlanField(db, claim, next));
    if (held) written = next;
    else lost.abort();
  };
  const look = setInterval(() => {
    const due = Date.now() - writtenAt >= BEAT_MS;
    if (!due && share === written) return;
    writtenAt = Date.now();
    // A moment without the database is no reason to give up the work; without a sign for long it is taken over.
    writing = writing.then(beat).catch(() => undefined);
  }, PROGRESS_MS);
  return {
    signal: outer ? AbortSignal.any([outer, lost.signal]) : lost.signal,
    progress: (value: number): void => {
      share = value;
    },
    lost: (): boolean => lost.signal.aborted,
    stop: async (): Promise<void> => {
      clearInterval(look);
      await writing;
    },
  };
}

/** A measure out of range, or time over, is said as it is; what else went wrong is a fault, and is named as one. */
function whyOf(error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  const sentence = `${said.charAt(0).toUpperCase()}${said.slice(1)}`.replace(/\.?$/, ".");
  if (error instanceof RangeError || isRefusal(error)) return sentence;
  if (error instanceof Stopped) return `It ${said}.`;
  return `A fault: ${sentence}`;
}
