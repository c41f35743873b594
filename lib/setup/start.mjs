/**
 * `npm start`: everything from a fresh clone to a running shop. This file uses nothing but Node itself, since no package
 * is installed yet when it begins; main.ts takes over as soon as they are.
 */
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { installPackages } from "./install.mjs";
import { takeLock } from "./lock.mjs";

/** Oldest Node that can run the service. */
const OLDEST_NODE = [20, 19];

const project = fileURLToPath(new URL("../..", import.meta.url));

/**
 * @param {string} message
 * @returns {never}
 */
function refuse(message) {
  console.error(message);
  process.exit(1);
}

function requireNode() {
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  const [oldestMajor = 0, oldestMinor = 0] = OLDEST_NODE;
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return;
  refuse(
    `Ironbath needs Node ${OLDEST_NODE.join(".")} or later; this is ${process.versions.node}. Install it from https://nodejs.org.`,
  );
}

async function start() {
  requireNode();
  const dataFolder = resolve(project, process.env["DATA_DIR"] || ".data");
  const holder = await takeLock(dataFolder);
  if (holder) {
    const where = holder.address ? ` at ${holder.address}` : "";
    refuse(
      `Ironbath is already running${where} (process ${holder.pid}). Stop that one first, or give this one its own DATA_DIR.`,
    );
  }
  installPackages(project, console.log);
  process.chdir(project);
  const { register } = await import("tsx/esm/api");
  register({ tsconfig: join(project, "tsconfig.json") });
  const { main } = await import("./main.ts");
  await main(dataFolder);
}

start().catch((error) => {
  refuse(error instanceof Error ? error.message : String(error));
});
