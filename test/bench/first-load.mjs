/** `npm run bench:size`: how much JavaScript each screen loads at first, gzipped, read from the last build. */
import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { PROJECT } from "../support/steps.mjs";

/** What we aim to stay below, kB of gzip a screen. */
const AIM_KB = 130;

/** @type {{ route: string, firstLoadChunkPaths: string[] }[]} */
const routes = JSON.parse(
  readFileSync(`${PROJECT}.next/diagnostics/route-bundle-stats.json`, "utf8"),
);

/** @type {Map<string, number>} */
const sizes = new Map();

/**
 * @param {string} file inside the project
 * @returns {number} bytes
 */
function gzipped(file) {
  const size = sizes.get(file) ?? gzipSync(readFileSync(`${PROJECT}${file}`)).length;
  sizes.set(file, size);
  return size;
}

const rows = routes
  .map(({ route, firstLoadChunkPaths }) => {
    const bytes = firstLoadChunkPaths.reduce((total, file) => total + gzipped(file), 0);
    return { route, kb: bytes / 1000 };
  })
  .sort((one, other) => other.kb - one.kb);

for (const { route, kb } of rows) {
  console.log(`${kb.toFixed(1).padStart(7)} kB ${kb > AIM_KB ? "over " : "     "} ${route}`);
}
