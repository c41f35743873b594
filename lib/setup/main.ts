/** The start itself, from checked environment to an answering shop (start.mjs comes before it). */
import { announceAddress } from "./lock.mjs";
import { buildPages, generateClient, type Step } from "./build";
import { type Child, startChild } from "./children";
import { type Environment, readEnvironment } from "./environment";
import { applyMigrations } from "./migrations";
import { firstFreePort, isPortFree } from "./ports";
import { waitUntil } from "./processes.mjs";
import type { Variables } from "./project";
import { keptSecrets } from "./secrets";
import { startShopDatabase } from "./shop-database";
import { Shutdown } from "./shutdown";

/** The port people find the shop at, unless PORT says otherwise. */
const USUAL_PORT = 3000;

/** Longest wait for the first page, ms. */
const ANSWER_LIMIT_MS = 60_000;

const say = (line: string): void => {
  console.log(line);
};

/**
 * Starts the shop and returns when it answers; the process then lives until a signal, or until a part of it ends.
 *
 * @param dataFolder absolute path; exists and is locked by this process
 * @throws Error whose message tells the person what to do; everything started is stopped by then
 */
export async function main(dataFolder: string): Promise<void> {
  const shutdown = new Shutdown();
  endOnSignals(shutdown);
  try {
    await start(dataFolder, shutdown);
  } catch (error) {
    if (shutdown.begun) return; // interrupted: the signal's handler ends the process
    await shutdown.run();
    throw error;
  }
}

async function start(dataFolder: string, shutdown: Shutdown): Promise<void> {
  const environment = readEnvironment(process.env);
  const port = await choosePort(environment);
  const secrets = keptSecrets(dataFolder);
  const variables: Variables = {
    PORT: String(port),
    HOST: environment.host,
    NODE_ENV: "production",
    NEXTAUTH_URL: environment.publicUrl ?? localAddress(port),
    NEXTAUTH_SECRET: environment.sessionSecret ?? secrets.session,
  };
  const step: Step = { say, running: (child) => void shutdown.add(endChild(child)) };
  await generateClient(step);
  await buildPages(step);
  variables["DATABASE_URL"] = await openDatabase(environment, dataFolder, shutdown);
  const setupCode = await startProcesses(variables, shutdown);
  const address = environment.publicUrl ?? localAddress(port);
  announceAddress(dataFolder, address);
  if (setupCode) say(`One-time code for the first visit: ${setupCode}`);
  say(`Ironbath is open at ${address}`);
}

function endChild(child: { kill: () => boolean }): () => Promise<void> {
  return () => {
    child.kill();
    return Promise.resolve();
  };
}

function localAddress(port: number): string {
  return `http://localhost:${String(port)}`;
}

async function choosePort({ port, host }: Environment): Promise<number> {
  if (port === undefined) return firstFreePort(USUAL_PORT, host);
  if (await isPortFree(port, host)) return port;
  throw new Error(
    `PORT: ${String(port)} is taken by another program on ${host}. Stop it, or name another port.`,
  );
}

async function openDatabase(
  environment: Environment,
  dataFolder: string,
  shutdown: Shutdown,
): Promise<string> {
  let url = environment.databaseUrl;
  if (url === undefined) {
    const server = await startShopDatabase(dataFolder, say);
    await shutdown.add(server.stop);
    void server.ended.then(() => endUnexpectedly(shutdown, "The database ended."));
    url = server.shopUrl;
  }
  try {
    await applyMigrations(url);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new Error(`The database cannot be used: ${reason}`, { cause: error });
  }
  return url;
}

/** @returns the one-time code, while no shop is open */
async function startProcesses(
  variables: Variables,
  shutdown: Shutdown,
): Promise<string | undefined> {
  const worker = startChild("worker", "lib/setup/worker.ts", variables, ["--import", "tsx"]);
  await shutdown.add(worker.stop);
  const web = startChild("web server", "lib/setup/web.mjs", variables);
  await shutdown.add(web.stop);
  const [told] = await Promise.all([worker.ready, web.ready]);
  await untilAnswers(variables);
  for (const child of [worker, web]) endWith(child, shutdown);
  return told.setupCode;
}

async function untilAnswers({ HOST, PORT }: Variables): Promise<void> {
  const address = `http://${callable(String(HOST))}:${String(PORT)}/sign-in`;
  let last = "no answer";
  const answers = async (): Promise<boolean> => {
    try {
      const response = await fetch(address, { redirect: "manual" });
      last = `status ${String(response.status)}`;
      return response.status < 500;
    } catch (error) {
      last = error instanceof Error ? error.message : String(error);
      return false;
    }
  };
  if (!(await waitUntil(answers, ANSWER_LIMIT_MS))) {
    throw new Error(`The web server does not answer at ${address}: ${last}.`);
  }
}

/** The host to call, for the host listened on: "every address" is none, and IPv6 stands in brackets in a URL. */
function callable(host: string): string {
  if (host === "0.0.0.0" || host === "::") return "localhost";
  return host.includes(":") ? `[${host}]` : host;
}

function endWith(child: Child, shutdown: Shutdown): void {
  void child.ended.then((reason) => endUnexpectedly(shutdown, reason));
}

/** A shop of which a part is missing is not half open: it ends, and says why. */
async function endUnexpectedly(shutdown: Shutdown, reason: string): Promise<void> {
  if (shutdown.begun) return;
  console.error(`${reason} Everything else is being stopped.`);
  await shutdown.run();
  process.exit(1);
}

/** Ctrl-C, a polite kill, and a closed terminal all end the shop in order. */
function endOnSignals(shutdown: Shutdown): void {
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
    process.on(signal, () => {
      if (!shutdown.begun) say("Stopping …");
      void shutdown.run().then(() => process.exit(0));
    });
  }
}
