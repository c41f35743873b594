import { createHash } from "node:crypto";
import { deflateSync, inflateSync } from "node:zlib";
import type { Mesh } from "@/lib/field";

export type PackedMesh = {
  /** Deflated Float32 and Uint32, little-endian. */
  readonly positions: Uint8Array;
  readonly indices: Uint8Array;
  /** SHA-256 of both before they were deflated. */
  readonly hash: string;
};

/** Little-endian, as every machine that Node runs a server on has it; 0.1 µm at 1 m is finer than any file. */
const bytesOf = (values: Float32Array | Uint32Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength);

/** @example unpackMesh(packMesh(mesh)) // the same mesh, its places rounded to single precision */
export function packMesh({ positions, indices }: Mesh): PackedMesh {
  const places = bytesOf(Float32Array.from(positions));
  const corners = bytesOf(indices);
  return {
    positions: new Uint8Array(deflateSync(places)),
    indices: new Uint8Array(deflateSync(corners)),
    hash: createHash("sha256").update(places).update(corners).digest("hex"),
  };
}

export function unpackMesh({
  positions,
  indices,
}: Pick<PackedMesh, "positions" | "indices">): Mesh {
  // Copied: inflated bytes need not begin where numbers may.
  const places = Uint8Array.from(inflateSync(positions));
  const corners = Uint8Array.from(inflateSync(indices));
  return {
    positions: Float64Array.from(new Float32Array(places.buffer)),
    indices: new Uint32Array(corners.buffer),
  };
}
