/** A file's triangles, nine numbers each in the file's unit, or why there are none. */
export type Soup =
  | { readonly ok: true; readonly corners: Float64Array }
  | { readonly ok: false; readonly why: string };

/** Bytes before the first triangle: 80 of free text and the count. */
const HEADER = 84;
/** Twelve single-precision numbers, the normal first, and two bytes to spare. */
const TRIANGLE = 50;

/** Triangles that the count names, be they there or not. */
const countOf = (bytes: Uint8Array): number =>
  bytes.length < HEADER ? 0 : viewOf(bytes).getUint32(80, true);

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Whether the length is just what the count asks for: no text file's is but by chance in four billion. */
export const isJustBinary = (bytes: Uint8Array): boolean =>
  bytes.length >= HEADER && bytes.length === HEADER + TRIANGLE * countOf(bytes);

/** Bytes after the last triangle that the count names; below 0 where triangles are missing. */
export const bytesOver = (bytes: Uint8Array): number =>
  bytes.length - HEADER - TRIANGLE * countOf(bytes);

/**
 * Reads binary STL: little-endian, 80 bytes of text, the count, 50 bytes a triangle. The normals in the file are
 * not believed; the corners' order tells.
 *
 * Layout as the format's publishers gave it (StereoLithography Interface Specification, 3D Systems, 1988; from
 * memory).
 */
export function readBinary(bytes: Uint8Array, mostTriangles: number): Soup {
  const count = countOf(bytes);
  if (count === 0) return { ok: false, why: "it holds no triangles" };
  if (bytesOver(bytes) < 0) {
    const there = Math.max(0, Math.floor((bytes.length - HEADER) / TRIANGLE));
    return { ok: false, why: `it breaks off: ${count} triangles are named, ${there} are there` };
  }
  if (count > mostTriangles) {
    return { ok: false, why: `it has ${count} triangles; at most ${mostTriangles} can be read` };
  }
  const view = viewOf(bytes);
  const corners = new Float64Array(9 * count);
  for (let triangle = 0; triangle < count; triangle++) {
    const start = HEADER + TRIANGLE * triangle + 12;
    for (let number = 0; number < 9; number++) {
      const value = view.getFloat32(start + 4 * number, true);
      if (!Number.isFinite(value)) {
        return { ok: false, why: `triangle ${triangle + 1} has a corner that is no number` };
      }
      corners[9 * triangle + number] = value;
    }
  }
  return { ok: true, corners };
}
