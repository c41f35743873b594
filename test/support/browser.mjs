/** Finding a Chromium for the journeys, or installing one. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import { chromium } from "@playwright/test";

/** Names under which systems install it. */
const NAMES = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome"];

/**
 * The browser to use: the one that CHROMIUM_PATH names, else an installed one.
 *
 * @returns {string | undefined} undefined: Playwright's own, if it was downloaded
 * @throws Error when CHROMIUM_PATH names nothing
 */
export function findBrowser() {
  const named = process.env["CHROMIUM_PATH"];
  if (named) {
    if (existsSync(named)) return named;
    throw new Error(`CHROMIUM_PATH: there is no program at ${named}`);
  }
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  return NAMES.flatMap((name) => folders.map((folder) => join(folder, name))).find(existsSync);
}

/**
 * Installs a browser where there is none: the system's package on Debian as root, else Playwright's download.
 *
 * @param {(line: string) => void} say
 * @throws Error when neither works
 */
export function ensureBrowser(say) {
  if (findBrowser() || existsSync(chromium.executablePath())) return;
  say("Installing a browser for the journeys …");
  const asRoot = process.getuid?.() === 0 && existsSync("/etc/debian_version");
  if (asRoot) {
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    run("apt-get", ["update", "-qq"], env);
    run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium"], env);
  } else {
    const command = "node_modules/@playwright/test/cli.js";
    run(process.execPath, [command, "install", "chromium"], process.env);
  }
  if (!findBrowser() && !existsSync(chromium.executablePath())) {
    throw new Error(
      "No browser for the journeys: install Chromium and name it with CHROMIUM_PATH.",
    );
  }
}

/**
 * @param {string} command
 * @param {string[]} args
 * @param {NodeJS.ProcessEnv} env
 */
function run(command, args, env) {
  const outcome = spawnSync(command, args, { env, encoding: "utf8" });
  // Whether it helped is asked afterwards; why it did not is worth seeing.
  if (outcome.status !== 0) console.error(outcome.stderr);
}
