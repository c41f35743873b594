/** Running a step of `npm test` or `npm run check`, and adding up what passed. */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

/** Folder of the project. */
export const PROJECT = fileURLToPath(new URL("../..", import.meta.url));

/**
 * @typedef {{ passed: number, failed: number }} Count
 * @typedef {{ code: number, output: string, seconds: number }} Outcome
 */

/**
 * Runs a Node program to its end.
 *
 * @param {readonly string[]} args for Node: the program's file, then its own arguments
 * @param {{ show?: boolean, env?: NodeJS.ProcessEnv }} [options] show: its output appears as it comes; otherwise it is kept
 * @returns {Promise<Outcome>}
 */
export async function runNode(args, { show = false, env = {} } = {}) {
  const began = Date.now();
  const child = spawn(process.execPath, args, {
    cwd: PROJECT,
    env: { ...process.env, ...env },
    stdio: ["ignore", show ? "inherit" : "pipe", show ? "inherit" : "pipe"],
  });
  let output = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream?.setEncoding("utf8").on("data", (text) => (output += text));
  }
  const code = await new Promise((resolve, reject) => {
    child.once("error", reject);
    child.once("close", resolve);
  });
  return { code: code ?? 1, output, seconds: (Date.now() - began) / 1000 };
}

/**
 * @param {Count[]} counts
 * @returns {Count}
 */
export function sum(counts) {
  return {
    passed: counts.reduce((total, count) => total + count.passed, 0),
    failed: counts.reduce((total, count) => total + count.failed, 0),
  };
}

/**
 * One line of a summary: did it pass, what is it, how long did it take.
 *
 * @param {boolean} passed
 * @param {string} name
 * @param {number} seconds
 */
export function report(passed, name, seconds) {
  console.log(`${passed ? "✓" : "✗"} ${name} (${seconds.toFixed(1)} s)`);
}
