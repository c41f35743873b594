import type { Mesh } from "@/lib/field";

/** Corners of each triangle, nine numbers, in a file's unit. */
export function cornersIn(mesh: Mesh, metresPerUnit: number): number[][] {
  return Array.from({ length: mesh.indices.length / 3 }, (_, triangle) =>
    [0, 1, 2].flatMap((corner) => {
      const vertex = mesh.indices[3 * triangle + corner] ?? 0;
      return [0, 1, 2].map((axis) => (mesh.positions[3 * vertex + axis] ?? 0) / metresPerUnit);
    }),
  );
}

/** A binary STL file: 80 bytes of text, the count, then 50 bytes a triangle, all little-endian. */
export function binaryStl(triangles: readonly (readonly number[])[], header = "part"): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  bytes.set(new TextEncoder().encode(header).subarray(0, 80));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((corners, triangle) => {
    corners.forEach((value, place) =>
      view.setFloat32(84 + 50 * triangle + 12 + 4 * place, value, true),
    );
  });
  return bytes;
}

/** An ASCII STL file. */
export function textStl(triangles: readonly (readonly number[])[], name = "part"): string {
  const facet = (corners: readonly number[]): string =>
    `  facet normal 0 0 0\n    outer loop\n${[0, 1, 2]
      .map((corner) => `      vertex ${corners.slice(3 * corner, 3 * corner + 3).join(" ")}\n`)
      .join("")}    endloop\n  endfacet\n`;
  return `solid ${name}\n${triangles.map(facet).join("")}endsolid ${name}\n`;
}

export const asBytes = (text: string): Uint8Array => new TextEncoder().encode(text);
