import { boxOf, type Mesh, moved, NO_TURN } from "./mesh";
import { mend } from "./mend";
import { upTo } from "./number-order";
import { bytesOver, isJustBinary, readBinary, type Soup } from "./stl-binary";
import { looksLikeText, readText } from "./stl-text";

/** Units of length that a file may have been drawn in; the file itself does not say. */
export const STL_UNITS = ["mm", "cm", "m", "in"] as const;
export type StlUnit = (typeof STL_UNITS)[number];

/** The inch has been 25.4 mm exactly since 1959. */
export const METRES_PER_STL_UNIT: Readonly<Record<StlUnit, number>> = {
  mm: 0.001,
  cm: 0.01,
  m: 1,
  in: 0.0254,
};

export const STL_LIMITS = { bytes: 25 * 1024 * 1024, triangles: 500_000 } as const;

/** Longest edge of a part's box, m. */
const PLAUSIBLE = { least: 0.001, most: 20 } as const;

export type StlRead =
  | {
      readonly ok: true;
      /** Watertight, m; standing on z = 0 with the middle of its box's floor at the origin. */
      readonly mesh: Mesh;
      readonly format: "BINARY" | "TEXT";
      /** What had to be mended, in words for the person who brought the file; empty where nothing had. */
      readonly mended: readonly string[];
    }
  | { readonly ok: false; readonly why: string };

/**
 * Reads an STL file, from anybody: never throws, takes time in proportion to its length, and takes no more memory
 * than the file's own length calls for, whatever counts it names.
 *
 * @param unit what the file was drawn in
 * @returns the mended mesh, or in words why there is none
 * @example readStl(bytes, "mm")
 */
export function readStl(bytes: Uint8Array, unit: StlUnit): StlRead {
  if (bytes.length === 0) return { ok: false, why: "The file is empty." };
  if (bytes.length > STL_LIMITS.bytes) {
    return {
      ok: false,
      why: `The file has ${megabytes(bytes.length)} MB; at most ${megabytes(STL_LIMITS.bytes)} MB can be read.`,
    };
  }
  const text = !isJustBinary(bytes) && looksLikeText(bytes) && !bytes.subarray(0, 1000).includes(0);
  const soup = (text ? readText : readBinary)(bytes, STL_LIMITS.triangles);
  if (!soup.ok) return { ok: false, why: `The file cannot be read: ${soup.why}.` };
  const mesh = standing(soup, METRES_PER_STL_UNIT[unit]);
  const doubt = doubtAboutSize(mesh, unit);
  if (doubt) return { ok: false, why: doubt };
  const whole = mend(mesh);
  if (!whole.ok) return { ok: false, why: `The part cannot be used: ${whole.why}.` };
  const over = text ? 0 : bytesOver(bytes);
  const said = over > 0 ? [`left out ${over} bytes after the last triangle`] : [];
  return {
    ok: true,
    mesh: whole.mesh,
    format: text ? "TEXT" : "BINARY",
    mended: [...said, ...whole.mended],
  };
}

const megabytes = (bytes: number): string => (bytes / 1024 / 1024).toFixed(1);

/** Corners of their own for each triangle, in metres, moved to stand in the middle. */
function standing({ corners }: Extract<Soup, { ok: true }>, metres: number): Mesh {
  const mesh: Mesh = {
    positions: corners.map((value) => value * metres),
    indices: upTo(corners.length / 3),
  };
  const { least, most } = boxOf(mesh);
  return moved(mesh, {
    rotation: NO_TURN,
    translation: [-(least[0] + most[0]) / 2, -(least[1] + most[1]) / 2, -least[2]],
  });
}

/** Mostly the wrong unit; null where the size is that of a part. */
function doubtAboutSize(mesh: Mesh, unit: StlUnit): string | null {
  const { least, most } = boxOf(mesh);
  const edges = [most[0] - least[0], most[1] - least[1], most[2] - least[2]];
  const longest = Math.max(...edges);
  if (longest >= PLAUSIBLE.least && longest <= PLAUSIBLE.most) return null;
  const box = edges.map((edge) => Number((edge * 1000).toPrecision(3))).join(" × ");
  return `Read in ${unit} the part is ${box} mm; its longest edge must be 1 mm to 20 m. Is the unit right?`;
}
