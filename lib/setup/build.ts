/** What is generated from the sources: the Prisma client and the built pages, each only when its sources changed. */
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { PROJECT, type Variables } from "./project";

/** Folders whose files end up in the built pages. */
const SOURCE_FOLDERS = ["app", "lib", "public", "prisma"];

/** Files beside them that do. */
const SOURCE_FILES =
  /^(next\.config\.|postcss\.config\.|prisma\.config\.|tsconfig\.json|package(-lock)?\.json|proxy\.|instrumentation)/;

/** What lies in those folders and does not: generated files, tests, and this start itself. */
const NOT_BUILT = /^lib[/\\](data[/\\]generated|setup)[/\\]|\.test\.tsx?$/;

const CLIENT = join(PROJECT, "lib", "data", "generated");
const BUILT = join(PROJECT, ".next");

export type Step = {
  readonly say: (line: string) => void;
  /** Told of the process that works, so that an interruption can end it. */
  readonly running: (child: ChildProcess) => void;
};

/** Generates the Prisma client when the schema or Prisma itself changed. */
export async function generateClient(step: Step): Promise<void> {
  const schema = readFileSync(join(PROJECT, "prisma", "schema.prisma"));
  const version = readFileSync(join(PROJECT, "node_modules", "prisma", "package.json"));
  const stamp = createHash("sha256").update(schema).update(version).digest("hex");
  const stampFile = join(CLIENT, "stamp");
  if (sameStamp(stampFile, stamp) && existsSync(join(CLIENT, "client.ts"))) return;
  await run(step, "prisma generate", ["node_modules/prisma/build/index.js", "generate"], {
    // Generating needs no engine, but the command line fetches one unless it is told of a program that exists.
    PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
    PRISMA_HIDE_UPDATE_MESSAGE: "1",
    CHECKPOINT_DISABLE: "1",
  });
  writeFileSync(stampFile, stamp);
}

/** Builds the pages when anything they are made of changed. */
export async function buildPages(step: Step): Promise<void> {
  const stamp = sourcesStamp();
  const stampFile = join(BUILT, "build-stamp");
  if (sameStamp(stampFile, stamp) && existsSync(join(BUILT, "BUILD_ID"))) return;
  step.say("Building the pages …");
  rmSync(stampFile, { force: true }); // an interrupted build must not pass for a whole one
  await run(step, "next build", ["node_modules/next/dist/bin/next", "build"], {
    NODE_ENV: "production",
    NEXT_TELEMETRY_DISABLED: "1",
  });
  writeFileSync(stampFile, stamp);
}

function sameStamp(file: string, stamp: string): boolean {
  return existsSync(file) && readFileSync(file, "utf8") === stamp;
}

function sourcesStamp(): string {
  const hash = createHash("sha256");
  const files = SOURCE_FOLDERS.flatMap((folder) => filesUnder(join(PROJECT, folder)));
  for (const entry of readdirSync(PROJECT)) {
    if (SOURCE_FILES.test(entry)) files.push(join(PROJECT, entry));
  }
  for (const file of files.sort()) {
    const name = relative(PROJECT, file);
    if (!NOT_BUILT.test(name)) hash.update(name).update("\0").update(readFileSync(file));
  }
  return hash.digest("hex");
}

function filesUnder(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}

/** Runs a Node program of a package to its end; its output is shown only when it fails. */
async function run(
  step: Step,
  name: string,
  args: readonly string[],
  variables: Variables,
): Promise<void> {
  const child = spawn(process.execPath, args, {
    cwd: PROJECT,
    env: { ...process.env, ...variables },
    stdio: ["ignore", "pipe", "pipe"],
  });
  step.running(child);
  let output = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding("utf8").on("data", (text: string) => (output += text));
  }
  const code = await new Promise<number | null>((resolve, reject) => {
    child.once("error", reject);
    child.once("close", resolve);
  });
  if (code !== 0) throw new Error(`${output.trim()}\n${name} failed.`);
}
