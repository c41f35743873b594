/**
 * Questions about processes that this one did not necessarily start. Plain JavaScript, since the start asks them
 * before any package is installed.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";

/**
 * The command line of a living process, or undefined when there is none with this number. Process numbers are
 * reused, so whoever finds a number in an old file asks what it runs before believing that it is its own.
 *
 * @param {number} pid
 * @returns {string | undefined}
 */
export function commandLine(pid) {
  if (!isAlive(pid)) return undefined;
  if (existsSync("/proc/self/cmdline")) {
    const file = `/proc/${pid}/cmdline`;
    return existsSync(file) ? readFileSync(file, "utf8").replaceAll("\0", " ") : undefined;
  }
  const listed = spawnSync("ps", ["-o", "command=", "-p", String(pid)], { encoding: "utf8" });
  return listed.status === 0 ? listed.stdout.trim() : undefined;
}

/**
 * True while a process with this number runs, whoever owns it. One that has ended and waits for its parent to notice
 * does not run.
 *
 * @param {number} pid
 * @returns {boolean}
 */
export function isAlive(pid) {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
  } catch (error) {
    // EPERM: it exists and belongs to somebody else.
    if (!(error instanceof Error && "code" in error && error.code === "EPERM")) return false;
  }
  return !isZombie(pid);
}

/**
 * @param {number} pid
 * @returns {boolean}
 */
function isZombie(pid) {
  try {
    // "123 (name) Z …": the state follows the last parenthesis.
    const status = readFileSync(`/proc/${pid}/stat`, "utf8");
    return status.slice(status.lastIndexOf(")") + 2).startsWith("Z");
  } catch {
    return false; // no such file system, or the process went away meanwhile
  }
}

/**
 * Asks `condition` again and again until it holds.
 *
 * @param {() => boolean | Promise<boolean>} condition
 * @param {number} limitMs longest wait, in milliseconds
 * @returns {Promise<boolean>} whether it held in time
 */
export async function waitUntil(condition, limitMs) {
  const giveUpAt = Date.now() + limitMs;
  for (;;) {
    if (await condition()) return true;
    if (Date.now() >= giveUpAt) return false;
    await pause(50);
  }
}
