/** `npm run kernels`: compiles lib/field/assembly into lib/field/kernels.ts. A test compiles it again and compares. */
import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { promisify } from "node:util";

const FIELD = fileURLToPath(new URL("../../lib/field/", import.meta.url));
/** Run as a program: importing it would bring its own types of arrays and numbers into every file here. */
const COMPILER = fileURLToPath(
  new URL("../../node_modules/assemblyscript/bin/asc.js", import.meta.url),
);

/** Characters of a line in the written file. */
const LINE = 92;

const FLAGS = [
  ...["--baseDir", join(FIELD, "assembly"), "index.ts", "--optimizeLevel", "3", "--converge"],
  // The memory is the host's, and nothing is ever made or freed in it.
  ...["--importMemory", "--runtime", "stub", "--use", "abort=", "--noAssert"],
  ...["--enable", "simd"],
];

/**
 * @returns {Promise<Uint8Array>} the WebAssembly of the folder
 * @throws {Error} with the compiler's own words
 */
export async function compileKernels() {
  const folder = await mkdtemp(join(tmpdir(), "kernels-"));
  const file = join(folder, "kernels.wasm");
  try {
    await promisify(execFile)(process.execPath, [COMPILER, ...FLAGS, "--outFile", file]);
    return await readFile(file);
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** @param {Uint8Array} bytes */
function moduleOf(bytes) {
  const base64 = Buffer.from(bytes).toString("base64");
  const lines = base64.match(new RegExp(`.{1,${String(LINE)}}`, "g")) ?? [];
  return [
    "/* Compiled from the folder assembly by `npm run kernels`; not to be edited. */",
    `const BASE64 =\n${lines.map((line) => `  "${line}"`).join(" +\n")};`,
    "",
    "/** The passes over the grids as WebAssembly. */",
    "export const kernels = (): Uint8Array<ArrayBuffer> =>",
    "  Uint8Array.from(atob(BASE64), (letter) => letter.charCodeAt(0));",
    "",
  ].join("\n");
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  writeFileSync(join(FIELD, "kernels.ts"), moduleOf(await compileKernels()));
}
