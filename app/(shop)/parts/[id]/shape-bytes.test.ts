import { describe, expect, it } from "vitest";
import { meshFromBytes } from "./shape-bytes";

function bytesOf(corners: number, triangles: number): ArrayBuffer {
  const bytes = new ArrayBuffer(8 + 12 * corners + 12 * triangles);
  new Uint32Array(bytes, 0, 2).set([corners, triangles]);
  new Float32Array(bytes, 8, 3 * corners).forEach((_, at, all) => (all[at] = at / 2));
  new Uint32Array(bytes, 8 + 12 * corners, 3 * triangles).forEach((_, at, all) => (all[at] = at));
  return bytes;
}

describe("a shape in bytes", () => {
  it("is corners and then triangles, after how many there are", () => {
    const { positions, indices } = meshFromBytes(bytesOf(3, 1));
    expect([...positions]).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4]);
    expect([...indices]).toEqual([0, 1, 2]);
  });

  it.each([0, 4, 8, 50])("is refused when it was cut short to %d bytes", (length) => {
    expect(() => meshFromBytes(bytesOf(3, 1).slice(0, length))).toThrow(RangeError);
  });
});
