/** The worker process: what happens by the clock rather than by a click. */
import { Logger, parseCronItems, run, type TaskList } from "graphile-worker";
import { disconnect } from "@/lib/data";
import { createSetupCode, deliverMails, expireQuotes, tidyUp } from "@/lib/services";
import { type FieldLoop, startFieldLoop } from "./field-loop";
import { onLeash } from "./leash.mjs";
import { postTo } from "./post";

/** Tasks only name a use case; retries and the clock are the queue's. */
const tasks = (fields: FieldLoop): TaskList => ({
  expireQuotes: async () => {
    await expireQuotes(new Date());
  },
  tidyUp: async () => {
    await tidyUp(new Date());
  },
  sendMail: async () => {
    const mailUrl = process.env["MAIL_URL"];
    if (mailUrl) await deliverMails(postTo(mailUrl), () => new Date());
  },
  // Only wakes: what takes seconds has threads of its own.
  workOutFields: () => {
    fields.wake();
  },
});

/** In UTC. Quotes end at midnight of the shop's own zone, which is a quarter hour somewhere: hence four times an hour. */
const TIMETABLE = parseCronItems([
  { task: "expireQuotes", match: "*/15 * * * *" },
  { task: "tidyUp", match: "7 * * * *" },
  // Asked for with each mail; this finds what waits for its next try.
  { task: "sendMail", match: "* * * * *" },
  // Changes are announced; this finds what was announced to nobody, and what a dead worker left.
  { task: "workOutFields", match: "* * * * *" },
]);

/** Connections of the queue itself; the tasks use the pool of lib/data. */
const QUEUE_CONNECTIONS = 3;

/** Only what somebody should look at; a task that succeeds is no news. */
const logger = new Logger(() => (level, message) => {
  if (["error", "warning"].includes(level)) console.error(`worker: ${message}`);
});

async function startWorker(connectionString: string): Promise<void> {
  const fields = startFieldLoop((message) => {
    console.error(`worker: ${message}`);
  });
  const runner = await run({
    connectionString,
    maxPoolSize: QUEUE_CONNECTIONS,
    noHandleSignals: true,
    logger,
    taskList: tasks(fields),
    parsedCronItems: TIMETABLE,
  });
  onLeash(async () => {
    await Promise.all([runner.stop(), fields.stop()]);
    await disconnect();
  });
  const setupCode = await createSetupCode(new Date());
  process.send?.({ ready: true, ...(setupCode ? { setupCode } : {}) });
  await runner.promise;
}

const connectionString = process.env["DATABASE_URL"];
if (!connectionString)
  throw new Error("The worker is started by npm start, which names the database.");
await startWorker(connectionString);
