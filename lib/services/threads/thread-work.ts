/** The work of a thread; see thread.ts. */
import { parentPort, workerData } from "node:worker_threads";
import { solveCutting } from "@/lib/stock";
import { loadCuttingSolver } from "@/lib/stock/cutting-solver";
import { findField } from "@/lib/treatment";
import { drawField } from "../fields/picture";
import { readShape } from "../fields/read-shape";
import { aheadInThread } from "../schedule/ahead-in-thread";
import { improveInThread } from "../schedule/improve-in-thread";
import type { ThreadJob, ThreadJobs, ThreadQuestion, ThreadWord } from "./thread-words";

const say = (word: ThreadWord): void => {
  parentPort?.postMessage(word);
};

const onProgress = (share: number): void => {
  say({ kind: "progress", share });
};

function answerTo(
  question: ThreadQuestion,
): ThreadJobs[ThreadJob]["answer"] | Promise<ThreadJobs[ThreadJob]["answer"]> {
  switch (question.job) {
    case "field":
      return findField(question.ask.subject, { onProgress });
    case "improve":
      return improveInThread(question.ask, onProgress);
    case "ahead":
      return aheadInThread(question.ask, onProgress);
    case "cutting":
      return cutBest(question.ask);
    case "shape":
      return readShape(question.ask.bytes, question.ask.unit);
    case "picture":
      return drawField(question.ask.subject, question.ask.hung);
  }
}

async function cutBest({ problem, timeLimitS }: ThreadJobs["cutting"]["ask"]) {
  return solveCutting(problem, { timeLimitS, solver: await loadCuttingSolver() });
}

try {
  say({ kind: "answer", answer: await answerTo(workerData as ThreadQuestion) });
} catch (error) {
  if (!(error instanceof RangeError)) throw error;
  say({ kind: "out-of-range", why: error.message });
}
