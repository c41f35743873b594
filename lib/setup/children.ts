/** The two processes that the start keeps running: the web server and the worker. */
import { fork } from "node:child_process";
import { PROJECT, type Variables } from "./project";

/** What a child tells once it is ready. */
export type Ready = {
  readonly ready: true;
  /** The one-time code for the first visit, from the worker, while no shop is open. */
  readonly setupCode?: string;
};

export type Child = {
  readonly ready: Promise<Ready>;
  /** Resolves with the reason when the child ends, asked or not. */
  readonly ended: Promise<string>;
  readonly stop: () => Promise<void>;
};

/** A child that does not end in this time when asked is killed, ms. */
const STOP_LIMIT_MS = 10_000;

/**
 * Starts one child on a leash (see leash.mjs).
 *
 * @param name      for messages
 * @param file      path inside the project
 * @param variables environment on top of this process's own
 * @param flags     for Node itself
 */
export function startChild(
  name: string,
  file: string,
  variables: Variables,
  flags: readonly string[] = [],
): Child {
  const child = fork(file, {
    cwd: PROJECT,
    execArgv: [...flags],
    env: { ...process.env, ...variables },
    // Its own process group: Ctrl-C reaches the start only, which stops things in order.
    detached: true,
  });
  const ended = new Promise<string>((resolve) => {
    child.once("error", (error) => {
      resolve(`The ${name} could not be started: ${error.message}`);
    });
    child.once("exit", (code, signal) => {
      resolve(`The ${name} ended (${signal ?? `code ${String(code)}`}).`);
    });
  });
  const ready = new Promise<Ready>((resolve, reject) => {
    child.once("message", (message) => {
      resolve(message as Ready);
    });
    void ended.then((reason) => {
      reject(new Error(reason));
    });
  });
  ready.catch(() => undefined); // told through `ended` too, which the start always watches
  const stop = async (): Promise<void> => {
    child.kill("SIGTERM");
    const kill = setTimeout(() => child.kill("SIGKILL"), STOP_LIMIT_MS);
    await ended;
    clearTimeout(kill);
  };
  return { ready, ended, stop };
}
