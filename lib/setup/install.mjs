/** Installing the packages that the lock file names, when they are not there already. Needs nothing but Node. */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";

/**
 * Runs `npm ci` where node_modules does not hold what package-lock.json names.
 *
 * @param {string} project folder of package-lock.json
 * @param {(line: string) => void} say told before the installation begins
 * @throws Error when npm fails
 */
export function installPackages(project, say) {
  const missing = firstMissing(project);
  if (missing === undefined) return;
  say(`Installing packages (${missing}) …`);
  // No install scripts: one of them would fetch programs from outside the registry, and none is needed.
  const npm = spawnSync("npm", ["ci", "--include=dev", "--ignore-scripts", "--loglevel=error"], {
    cwd: project,
    stdio: ["ignore", "ignore", "inherit"],
    shell: process.platform === "win32", // npm is a script there
  });
  if (npm.error) throw new Error(`npm could not be run: ${npm.error.message}`);
  if (npm.status !== 0) throw new Error("npm ci failed: see its message above.");
}

/**
 * Why an installation is needed; undefined when the installed packages are the locked ones. npm leaves a list of what
 * it installed, in the same form as the lock file.
 *
 * @param {string} project
 * @returns {string | undefined}
 */
function firstMissing(project) {
  const locked = readPackages(join(project, "package-lock.json"));
  const installed = readPackages(join(project, "node_modules", ".package-lock.json"));
  if (!locked) throw new Error("package-lock.json is missing: this is not a whole copy.");
  if (!installed) return "first start";
  for (const [path, entry] of Object.entries(locked)) {
    if (path === "") continue; // the project itself
    const found = installed[path];
    if (!found && !entry.optional && !entry.devOptional && !entry.peer) return `${path} is missing`;
    if (found && found.version !== entry.version) return `${path} has changed`;
  }
  return undefined;
}

/**
 * @param {string} file
 * @returns {Record<string, { version?: string, optional?: boolean, devOptional?: boolean, peer?: boolean }> | undefined}
 */
function readPackages(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8")).packages;
  } catch {
    return undefined;
  }
}
