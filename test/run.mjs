/** `npm test`: everything, from a fresh clone. The last line is `N passed, N failed`. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { installPackages } from "../lib/setup/install.mjs";
import { PROJECT, report, runNode, sum } from "./support/steps.mjs";

/** @typedef {import("./support/steps.mjs").Count} Count */

const PASSED = { passed: 1, failed: 0 };
const FAILED = { passed: 0, failed: 1 };

const results = mkdtempSync(join(tmpdir(), "ironbath-results-"));

/**
 * What a suite's own report counts. A suite that ran nothing, or skipped anything, proves nothing: it has failed.
 *
 * @param {string} name
 * @param {number} code exit code of the runner
 * @param {Count & { skipped: number }} counted
 * @returns {Count}
 */
function judge(name, code, { passed, failed, skipped }) {
  if (skipped > 0) console.log(`${name}: ${skipped} skipped, counted as failed`);
  const all = { passed, failed: failed + skipped };
  if (passed + all.failed === 0) {
    console.log(`${name}: no test ran`);
    return FAILED;
  }
  // A runner can fail without a failed test: a leak, a broken file, an error after the last test.
  return code !== 0 && all.failed === 0 ? { passed, failed: 1 } : all;
}

/**
 * @template T
 * @param {string} file
 * @returns {T | undefined}
 */
function readResults(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    return undefined; // the runner ended before it could write them
  }
}

/**
 * @param {string} project of vitest.config.ts
 * @returns {Promise<Count>}
 */
async function vitest(project) {
  const file = join(results, `${project}.json`);
  const { code } = await runNode(
    [
      ...["node_modules/vitest/vitest.mjs", "run", "--project", project],
      ...["--reporter=default", "--reporter=json", `--outputFile=${file}`],
    ],
    { show: true },
  );
  /** @type {{ numPassedTests: number, numFailedTests: number, numPendingTests: number, numTodoTests: number } | undefined} */
  const told = readResults(file);
  return judge(project, code, {
    passed: told?.numPassedTests ?? 0,
    failed: told?.numFailedTests ?? 0,
    skipped: (told?.numPendingTests ?? 0) + (told?.numTodoTests ?? 0),
  });
}

/** @returns {Promise<Count>} */
async function journeys() {
  const { ensureBrowser } = await import("./support/browser.mjs");
  ensureBrowser(console.log);
  const file = join(results, "journeys.json");
  const { code } = await runNode(
    ["node_modules/@playwright/test/cli.js", "test", "--reporter=list,json"],
    { show: true, env: { PLAYWRIGHT_JSON_OUTPUT_FILE: file } },
  );
  /** @type {{ stats: { expected: number, unexpected: number, flaky: number, skipped: number } } | undefined} */
  const told = readResults(file);
  const { expected = 0, unexpected = 0, flaky = 0, skipped = 0 } = told?.stats ?? {};
  return judge("journeys", code, { passed: expected, failed: unexpected + flaky, skipped });
}

/** @returns {Promise<Count>} */
async function build() {
  const { buildPages } = await import("../lib/setup/build.ts");
  await buildPages({ say: console.log, running: () => undefined });
  return PASSED;
}

/** @returns {Promise<Count>} */
async function checks() {
  const { check } = await import("./check.mjs");
  return check();
}

/** What everything else needs. @returns {Promise<Count>} */
async function prepare() {
  installPackages(PROJECT, console.log);
  const { register } = await import("tsx/esm/api");
  register({ tsconfig: join(PROJECT, "tsconfig.json") });
  const { generateClient } = await import("../lib/setup/build.ts");
  await generateClient({ say: console.log, running: () => undefined });
  return PASSED;
}

/**
 * Runs one step and reports it; a step that throws has failed.
 *
 * @param {string} name
 * @param {() => Promise<Count>} run
 * @returns {Promise<Count>}
 */
async function step(name, run) {
  console.log(`\n── ${name}`);
  const began = Date.now();
  /** @type {Count} */
  let count = FAILED;
  try {
    count = await run();
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
  }
  report(count.failed === 0, `${name}: ${count.passed} passed`, (Date.now() - began) / 1000);
  return count;
}

process.chdir(PROJECT);
const prepared = await step("prepare", prepare);
const counts = [prepared];
if (prepared.failed === 0) {
  counts.push(await step("checks", checks));
  counts.push(await step("unit and reference", () => vitest("unit")));
  const built = await step("build", build);
  counts.push(built);
  // Some of these start the built service.
  counts.push(await step("integration", () => vitest("integration")));
  counts.push(built.failed === 0 ? await step("journeys", journeys) : FAILED);
}
rmSync(results, { recursive: true, force: true });
const { passed, failed } = sum(counts);
console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
