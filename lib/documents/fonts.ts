import { createRequire } from "node:module";
import { join } from "node:path";

/**
 * The faces of every document, embedded as subsets: letters of most scripts written from left to right, and every
 * currency sign.
 */
const FACES = {
  regular: "dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf",
  bold: "dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf",
} as const;
export type Face = keyof typeof FACES;

/**
 * Path of a font file. Resolved from the project's own folder at the time of use: a bundler moves this file and does
 * not bring the fonts along.
 */
export function fontFile(face: Face): string {
  return createRequire(join(process.cwd(), "package.json")).resolve(FACES[face]);
}
