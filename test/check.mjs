/** `npm run check`: format, lint, types, layers and unused code, in under a minute. */
import { pathToFileURL } from "node:url";
import { PROJECT, report, runNode, sum } from "./support/steps.mjs";

/** @typedef {import("./support/steps.mjs").Count} Count */

const NEXT = "node_modules/next/dist/bin/next";

/**
 * Each check is a sequence of programs, given to Node. The longest come first, since two run at a time.
 *
 * @type {Readonly<Record<string, readonly (readonly string[])[]>>}
 */
const CHECKS = {
  lint: [
    [
      "node_modules/eslint/bin/eslint.js",
      ".",
      "--cache",
      "--cache-location",
      "node_modules/.cache/eslint/",
    ],
  ],
  // The pages' own types are generated from the folders of app.
  types: [
    [NEXT, "typegen"],
    ["node_modules/typescript/bin/tsc", "--noEmit"],
  ],
  format: [["node_modules/prettier/bin/prettier.cjs", "--check", ".", "--cache"]],
  layers: [
    [
      "node_modules/dependency-cruiser/bin/dependency-cruise.mjs",
      ...["app", "lib", "prisma/seed", "test", "e2e", "--config", ".dependency-cruiser.cjs"],
    ],
  ],
  "unused code": [["node_modules/knip/bin/knip.js", "--no-progress"]],
};

/** How many run at once: the machine that this must be fast on has two cores. */
const AT_ONCE = 2;

/**
 * @param {string} name
 * @returns {Promise<Count>}
 */
async function runCheck(name) {
  let seconds = 0;
  for (const program of CHECKS[name] ?? []) {
    const outcome = await runNode(program, { env: { NEXT_TELEMETRY_DISABLED: "1" } });
    seconds += outcome.seconds;
    if (outcome.code !== 0) {
      report(false, name, seconds);
      console.log(outcome.output.trimEnd());
      return { passed: 0, failed: 1 };
    }
  }
  report(true, name, seconds);
  return { passed: 1, failed: 0 };
}

/**
 * Runs all checks, two at a time.
 *
 * @returns {Promise<Count>}
 */
export async function check() {
  const waiting = Object.keys(CHECKS);
  /** @type {Count[]} */
  const counts = [];
  const work = async () => {
    for (let name = waiting.shift(); name; name = waiting.shift())
      counts.push(await runCheck(name));
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return sum(counts);
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  process.chdir(PROJECT);
  const { passed, failed } = await check();
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed > 0 ? 1 : 0;
}
