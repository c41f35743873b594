import type { Mesh } from "@/lib/field";

/** Two counts before the numbers. */
const HEAD_BYTES = 8;

/**
 * The mesh in what `/parts/…/own-shape` sends.
 *
 * @throws RangeError if there are more or fewer bytes than the counts at their head call for
 */
export function meshFromBytes(bytes: ArrayBuffer): Mesh {
  const [corners = 0, triangles = 0] =
    bytes.byteLength < HEAD_BYTES ? [] : new Uint32Array(bytes, 0, 2);
  const expected = HEAD_BYTES + 12 * corners + 12 * triangles;
  if (corners === 0 || bytes.byteLength !== expected) {
    throw new RangeError(`expected a shape of ${expected} bytes, got ${bytes.byteLength}`);
  }
  return {
    positions: Float64Array.from(new Float32Array(bytes, HEAD_BYTES, 3 * corners)),
    indices: new Uint32Array(bytes, HEAD_BYTES + 12 * corners, 3 * triangles).slice(),
  };
}
