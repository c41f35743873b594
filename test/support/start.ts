/** Starting the real service, just as a person does with `npm start`, with a data folder of the test's own. */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const PROJECT = fileURLToPath(new URL("../..", import.meta.url));

/** Longest wait for a line of output, ms: the first start may have to build. */
const LINE_LIMIT_MS = 480_000;

export type Started = {
  readonly pid: number;
  /** Everything it has written so far, to both streams. */
  readonly output: () => string;
  /** Waits until the output matches. Rejects with the output when the process ends first. */
  readonly until: (pattern: RegExp) => Promise<RegExpExecArray>;
  /** Resolves with the exit code; null after a kill. */
  readonly exit: Promise<number | null>;
  /** Sends a signal and waits for the end. */
  readonly end: (signal: NodeJS.Signals) => Promise<number | null>;
};

/** The line that ends a start, with the address. */
export const OPEN = /open at (\S+)/;

/**
 * Runs the start command.
 *
 * @param variables DATA_DIR at least; on top of an environment in which the service's own variables are empty
 */
export function runStart(variables: Readonly<Record<string, string>>): Started {
  const child = spawn(process.execPath, ["lib/setup/start.mjs"], {
    cwd: PROJECT,
    env: {
      ...process.env,
      ...{ NODE_ENV: "production", DATABASE_URL: "", PORT: "", HOST: "", PUBLIC_URL: "" },
      ...variables,
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let text = "";
  const exit = new Promise<number | null>((resolve) => child.once("exit", resolve));
  const until = (pattern: RegExp): Promise<RegExpExecArray> =>
    new Promise((resolve, reject) => {
      const look = (): void => {
        const found = pattern.exec(text);
        if (found) resolve(found);
      };
      const giveUp = (): void =>
        reject(new Error(`Waited in vain for ${String(pattern)}:\n${text}`));
      child.stdout.on("data", look);
      child.once("exit", giveUp);
      setTimeout(giveUp, LINE_LIMIT_MS).unref();
      look();
    });
  for (const stream of [child.stdout, child.stderr]) {
    // First in line, so that `until` looks at what has just come.
    stream.prependListener("data", (chunk: Buffer) => {
      text += chunk.toString("utf8");
    });
  }
  const end = (signal: NodeJS.Signals): Promise<number | null> => {
    child.kill(signal);
    return exit;
  };
  return { pid: child.pid ?? 0, output: () => text, until, exit, end };
}
