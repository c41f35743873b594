import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { asBytes, binaryStl, cornersIn, textStl } from "@/test/support/stl-files";
import { catalogueMesh } from "./catalogue";
import { faultsOf } from "./faults";
import { boxOf, measure } from "./mesh";
import { METRES_PER_STL_UNIT, readStl, STL_UNITS, type StlRead } from "./stl";

const MEASURES = { lengthMm: 120, widthMm: 80, heightMm: 50, wallMm: 4 };
const box = catalogueMesh("BOX", MEASURES);
const triangles = cornersIn(box, 0.001);
const text = textStl(triangles);

function meshOf(read: StlRead) {
  if (!read.ok) throw new Error(read.why);
  return read;
}

function whyNot(bytes: Uint8Array | string): string {
  const read = readStl(typeof bytes === "string" ? asBytes(bytes) : bytes, "mm");
  return read.ok ? "it was read" : read.why;
}

describe("a sound file", () => {
  it.each([
    ["binary", binaryStl(triangles), "BINARY"],
    ["text", asBytes(text), "TEXT"],
    ["binary that begins with the word of a text file", binaryStl(triangles, "solid x"), "BINARY"],
    [
      "text in capitals, with tabs and returns",
      asBytes(text.toUpperCase().replaceAll("\n", "\r\n\t")),
      "TEXT",
    ],
    ["text after a byte-order mark and blank lines", asBytes(`\uFEFF\n\n ${text}`), "TEXT"],
    [
      "text whose numbers have exponents",
      asBytes(text.replaceAll(/ (-?\d+) /g, " $1.0E+00 ")),
      "TEXT",
    ],
  ])("is read when it is %s", (_name, bytes, format) => {
    const read = meshOf(readStl(bytes, "mm"));
    expect(read.format).toBe(format);
    expect(read.mended).toEqual([]);
    expect(measure(read.mesh).areaM2).toBeCloseTo(measure(box).areaM2, 8);
    expect(measure(read.mesh).volumeM3).toBeCloseTo(measure(box).volumeM3, 10);
    expect(read.mesh.positions.length).toBe(box.positions.length);
  });

  it("may have a name that is no text at all, and several solids", () => {
    const name = Uint8Array.of(0xff, 0xfe, 0xc3, 0x28);
    const [head, tail] = [asBytes("solid "), asBytes(text.slice("solid part".length))];
    const odd = new Uint8Array([...head, ...name, ...tail]);
    expect(meshOf(readStl(odd, "mm")).format).toBe("TEXT");
    const apart = textStl(triangles.map((corners) => corners.map((value) => value + 500)));
    const both = meshOf(readStl(asBytes(text + apart), "mm"));
    expect(faultsOf(both.mesh).shells).toBe(2);
  });

  it.each(STL_UNITS)("is taken in the unit named: %s", (unit) => {
    const metres = METRES_PER_STL_UNIT[unit];
    const read = meshOf(readStl(binaryStl(cornersIn(box, metres)), unit));
    expect(measure(read.mesh).volumeM3).toBeCloseTo(measure(box).volumeM3, 10);
  });

  it("stands in the middle, whatever its own origin", () => {
    const far = triangles.map((corners) => corners.map((value) => value + 300));
    const { least, most } = boxOf(meshOf(readStl(binaryStl(far), "mm")).mesh);
    expect(least.map((value) => Number(value.toFixed(6)))).toEqual([-0.06, -0.04, 0]);
    expect(most.map((value) => Number(value.toFixed(6)))).toEqual([0.06, 0.04, 0.05]);
  });

  it("may be followed by more bytes, and that is said", () => {
    const longer = new Uint8Array([...binaryStl(triangles, "solid"), 1, 2, 3]);
    const plain = new Uint8Array([...binaryStl(triangles), 1, 2, 3]);
    expect(meshOf(readStl(plain, "mm")).mended).toEqual([
      "left out 3 bytes after the last triangle",
    ]);
    expect(meshOf(readStl(longer, "mm")).format).toBe("BINARY");
  });
});

describe("a file that is no part", () => {
  const first = triangles[0] ?? [];
  const named = binaryStl(triangles);
  new DataView(named.buffer).setUint32(80, 4_294_967_295, true);
  const notFinite = (value: number) =>
    binaryStl([[...first.slice(0, 8), value], ...triangles.slice(1)]);
  it.each<[string, Uint8Array | string, RegExp]>([
    ["empty", "", /empty/],
    ["too long", new Uint8Array(25 * 1024 * 1024 + 1), /25\.0 MB; at most 25\.0 MB/],
    ["no mesh", "hello, this is a letter", /holds no triangles|breaks off/],
    ["without triangles", binaryStl([]), /holds no triangles/],
    ["text without triangles", "solid x\nendsolid x\n", /holds no triangles/],
    [
      "cut short",
      binaryStl(triangles).subarray(0, 700),
      /breaks off: 28 triangles are named, 12 are there/,
    ],
    ["text cut short in a number", text.slice(0, 300), /triangle 3: .*(breaks off|expected)/],
    ["text without an end", text.replace("endsolid part", ""), /breaks off: there is no endsolid/],
    ["one that names four billion triangles", named, /4294967295 triangles are named/],
    ["not a number", notFinite(NaN), /triangle 1 has a corner that is no number/],
    ["infinite", notFinite(-Infinity), /triangle 1 has a corner that is no number/],
    [
      "text that is not a number",
      text.replace("vertex", "vertex nan"),
      /triangle 1: “nan” is no number/,
    ],
    ["text with a comma", text.replace(/vertex \S+/, "vertex 1,5"), /“1,5” is no number/],
    ["text with a huge number", text.replace(/vertex \S+/, "vertex 1e99"), /“1e99” is no number/],
    [
      "text with a facet of two corners",
      text.replace(/vertex.*\n/, ""),
      /triangle 1: “endloop” stands where “vertex”/,
    ],
    ["text with a stranger in it", text.replace("facet", "cube"), /“cube” stands where a facet/],
    ["text before its solid", `${text}facet`, /“facet” stands outside a solid/],
    [
      "much too small",
      binaryStl(cornersIn(box, 1000)),
      /Read in mm the part is 0\.00012 × .*Is the unit right/,
    ],
    ["much too large", binaryStl(cornersIn(box, 1e-6)), /1 mm to 20 m/],
    ["a sheet without thickness", binaryStl([[0, 0, 0, 100, 0, 0, 0, 100, 0]]), /hole 100 mm wide/],
    ["a point", binaryStl([[5, 5, 5, 5, 5, 5, 5, 5, 5]]), /Is the unit right/],
  ])("is refused in words: %s", (_name, bytes, why) => {
    expect(whyNot(bytes)).toMatch(why);
  });

  it("is not taken beyond its most triangles", () => {
    const many = new Uint8Array(84 + 50 * 500_001);
    new DataView(many.buffer).setUint32(80, 500_001, true);
    expect(whyNot(many)).toMatch(/500001 triangles; at most 500000/);
  });

  it("is read at a length of just 1 mm and 20 m, and no further", () => {
    const scaled = (longestMm: number) =>
      binaryStl(triangles.map((corners) => corners.map((value) => (value * longestMm) / 120)));
    expect(whyNot(scaled(1.001))).toBe("it was read");
    expect(whyNot(scaled(0.999))).toMatch(/longest edge/);
    expect(whyNot(scaled(19_990))).toBe("it was read");
    expect(whyNot(scaled(20_010))).toMatch(/longest edge/);
  });
});

describe("hostile bytes", () => {
  const anyBytes = fc.uint8Array({ maxLength: 2000 });
  it("never throw", () => {
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const read = readStl(bytes, "mm");
        expect(read.ok || read.why.length > 10).toBe(true);
      }),
    );
  });

  it("never throw though most of the file is sound", () => {
    const sound = binaryStl(triangles);
    const soundText = asBytes(text);
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.array(fc.tuple(fc.nat(5000), fc.nat(255)), { maxLength: 6 }),
        (binary, changes) => {
          const bytes = (binary ? sound : soundText).slice();
          for (const [place, value] of changes) bytes[place % bytes.length] = value;
          const read = readStl(bytes, "mm");
          if (read.ok) expect(faultsOf(read.mesh).openEdges).toBe(0);
          else expect(read.why.length).toBeGreaterThan(10);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("take no long time: all corners in few places, and words without end", () => {
    const count = 100_000;
    const crowded = Array.from({ length: count }, (_, at) => [
      ...[0, 0, 0, 100, 0, 0],
      ...[at % 7, 100 + (at % 3), at % 2],
    ]);
    const start = performance.now();
    expect(readStl(binaryStl(crowded), "mm").ok).toBe(false);
    expect(whyNot(`solid\n${"x".repeat(5_000_000)}`)).toMatch(/stands where a facet/);
    expect(whyNot(`solid\n${" ".repeat(5_000_000)}`)).toMatch(/breaks off/);
    expect(performance.now() - start).toBeLessThan(3000);
  });
});
