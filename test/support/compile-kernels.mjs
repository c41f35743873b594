/** `npm run kernels`: compiles lib/field/assembly into lib/field/kernels.ts. A test compiles it again and compares. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import asc from "assemblyscript/asc";

const FIELD = fileURLToPath(new URL("../../lib/field/", import.meta.url));

/** Characters of a line in the written file. */
const LINE = 92;

const FLAGS = [
  ...["--baseDir", join(FIELD, "assembly")],
  ...["index.ts", "--outFile", "kernels.wasm", "--optimizeLevel", "3", "--converge"],
  // The memory is the host's, and nothing is ever made or freed in it.
  ...["--importMemory", "--runtime", "stub", "--use", "abort=", "--noAssert"],
  ...["--enable", "simd"],
];

/**
 * @returns {Promise<Uint8Array>} the WebAssembly of the folder
 * @throws {Error} with the compiler's own words
 */
export async function compileKernels() {
  /** @type {Uint8Array | undefined} */
  let binary;
  const { error, stderr } = await asc.main(FLAGS, {
    writeFile: (name, contents) => {
      if (name === "kernels.wasm" && typeof contents !== "string") binary = contents;
    },
  });
  if (error || !binary) {
    throw new Error(`The kernels do not compile: ${stderr.toString()}`, { cause: error });
  }
  return binary;
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
