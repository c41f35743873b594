/** One start at a time in one data folder: two would install, build and open the same cluster over each other. */
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { commandLine } from "./processes.mjs";

/**
 * @typedef {{ pid: number, address?: string }} Holder the running start, and where it answers once it does
 */

/** Command line of a start: a number reused by another program, a shell that runs this one included, is no holder. */
const START = /^\S*node\S* .*start\.mjs/;

/** Two starts that both found a stale lock write over each other within this time, ms; the last one has it. */
const SETTLE_MS = 150;

/**
 * Takes the lock of a data folder, which is made when missing. A lock left by a killed start is taken over.
 *
 * @param {string} dataFolder
 * @returns {Promise<Holder | undefined>} who holds it, when this process does not get it
 */
export async function takeLock(dataFolder) {
  // Root's database runs as another account, which must pass through this folder to its cluster.
  mkdirSync(dataFolder, { recursive: true, mode: process.getuid?.() === 0 ? 0o711 : 0o700 });
  const found = readHolder(dataFolder);
  if (found && isStart(found.pid)) return found;
  writeHolder(dataFolder, { pid: process.pid });
  await pause(SETTLE_MS);
  const holder = readHolder(dataFolder);
  if (holder && holder.pid !== process.pid && isStart(holder.pid)) return holder;
  process.once("exit", () => {
    if (readHolder(dataFolder)?.pid === process.pid) rmSync(lockFile(dataFolder), { force: true });
  });
  return undefined;
}

/**
 * Lets a second start say where the first one answers.
 *
 * @param {string} dataFolder
 * @param {string} address
 */
export function announceAddress(dataFolder, address) {
  writeHolder(dataFolder, { pid: process.pid, address });
}

/** @param {string} dataFolder */
function lockFile(dataFolder) {
  return join(dataFolder, "start.lock");
}

/**
 * @param {string} dataFolder
 * @param {Holder} holder
 */
function writeHolder(dataFolder, holder) {
  // Renamed into place, so that nobody reads half of it.
  const draft = `${lockFile(dataFolder)}.${process.pid}`;
  writeFileSync(draft, JSON.stringify(holder), { mode: 0o600 });
  renameSync(draft, lockFile(dataFolder));
}

/**
 * @param {string} dataFolder
 * @returns {Holder | undefined}
 */
function readHolder(dataFolder) {
  try {
    return JSON.parse(readFileSync(lockFile(dataFolder), "utf8"));
  } catch {
    return undefined; // none, or cut short by a full disk: nobody's
  }
}

/** @param {number} pid */
function isStart(pid) {
  return pid !== process.pid && START.test(commandLine(pid) ?? "");
}
