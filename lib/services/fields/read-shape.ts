import { measure, minus, readStl, type StlUnit } from "@/lib/field";
import { packMesh, type PackedMesh } from "./mesh-bytes";

/** A file read, mended and measured, as it is kept; or in words why it cannot be. */
export type ShapeRead =
  | (PackedMesh & {
      readonly ok: true;
      readonly corners: number;
      readonly triangles: number;
      readonly areaM2: number;
      readonly volumeM3: number;
      /** Edges of its box, m. */
      readonly lengthM: number;
      readonly widthM: number;
      readonly heightM: number;
      readonly mended: readonly string[];
    })
  | { readonly ok: false; readonly why: string };

/** Reads an STL file from anybody: never throws, but may take seconds. */
export function readShape(bytes: Uint8Array, unit: StlUnit): ShapeRead {
  const read = readStl(bytes, unit);
  if (!read.ok) return read;
  const { mesh, mended } = read;
  const { areaM2, volumeM3, box } = measure(mesh);
  if (!(areaM2 > 0 && volumeM3 > 0)) {
    return { ok: false, why: "The part cannot be used: its surface holds no metal." };
  }
  const [lengthM, widthM, heightM] = minus(box.most, box.least);
  return {
    ok: true,
    ...packMesh(mesh),
    corners: mesh.positions.length / 3,
    triangles: mesh.indices.length / 3,
    ...{ areaM2, volumeM3, lengthM, widthM, heightM, mended },
  };
}
