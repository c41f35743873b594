import { createRequire } from "node:module";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import type { ThreadJob, ThreadJobs, ThreadWord } from "./thread-words";

/**
 * Found from the project's own folder at the time of use, as the fonts of documents are: a bundler must neither follow
 * the path, which leads to a loader that it cannot read, nor move what lies there.
 */
function entry(): string {
  const project = createRequire(join(process.cwd(), "package.json"));
  return project.resolve(ENTRY);
}
const ENTRY = ["./lib/services/threads", "thread-entry.mjs"].join("/");

/** Of objects, MB; typed arrays lie outside of it. A file made to fill the memory ends its own thread only. */
const MOST_MEMORY_MB = 1024;

/** The work was told to end, or took longer than it may. */
export class Stopped extends Error {
  override readonly name = "Stopped";
}

export type ThreadOptions = {
  /** ms; the thread is ended after it */
  readonly mostMs: number;
  readonly onProgress?: (share: number) => void;
  readonly signal?: AbortSignal;
};

/**
 * Does seconds of work in a thread of its own, so that this process goes on answering.
 *
 * @throws RangeError naming a measure that is out of range
 * @throws Stopped when told to end or when `mostMs` is over
 * @throws Error whatever else the work threw
 * @example await inThread("field", { subject }, { mostMs: 600_000 })
 */
export async function inThread<Job extends ThreadJob>(
  job: Job,
  ask: ThreadJobs[Job]["ask"],
  { mostMs, onProgress, signal }: ThreadOptions,
): Promise<ThreadJobs[Job]["answer"]> {
  if (signal?.aborted) throw new Stopped("told to end before it began");
  const thread = new Worker(/* turbopackIgnore: true */ entry(), {
    workerData: { job, ask },
    // Loaders of this process would be loaded twice: the entry brings its own.
    execArgv: [],
    resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB },
  });
  const end = new AbortController();
  const options = { signal: end.signal };
  try {
    return await new Promise((resolve, reject) => {
      const limit = setTimeout(() => {
        reject(new Stopped(`took longer than ${Math.round(mostMs / 1000)} s`));
      }, mostMs);
      end.signal.addEventListener("abort", () => clearTimeout(limit));
      signal?.addEventListener("abort", () => reject(new Stopped("told to end")), options);
      thread.on("message", (word: ThreadWord) => {
        if (word.kind === "progress") onProgress?.(word.share);
        else if (word.kind === "out-of-range") reject(new RangeError(word.why));
        // The thread answers the job that it was given.
        else resolve(word.answer);
      });
      thread.on("error", reject);
      thread.on("exit", () => {
        reject(new Error(`the thread for the ${job} ended without an answer`));
      });
    });
  } finally {
    end.abort();
    await thread.terminate();
  }
}
