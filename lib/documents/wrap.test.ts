import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { firstLines, printable, wrap } from "./wrap";

const count = (text: string) => text.length;

describe("wrap", () => {
  it("breaks at spaces, at line ends, and inside a word only where it must", () => {
    expect(wrap("rust off, oiled", 9, count)).toEqual(["rust off,", "oiled"]);
    expect(wrap("one\ntwo\n\nthree", 9, count)).toEqual(["one", "two", "", "three"]);
    expect(wrap("a Donaudampfschiff b", 8, count)).toEqual(["a", "Donaudam", "pfschiff", "b"]);
    expect(wrap("wide", 0, count)).toEqual(["w", "i", "d", "e"]);
    expect(wrap("", 9, count)).toEqual([""]);
  });

  it("loses no letter and makes no line too wide", () => {
    const text = fc.string({ unit: fc.constantFrom("a", "é", "ł", " ", "\n"), maxLength: 200 });
    fc.assert(
      fc.property(text, fc.integer({ min: 1, max: 40 }), (words, width) => {
        const lines = wrap(words, width, count);
        expect(lines.join("").replaceAll(" ", "")).toBe(words.replace(/[ \n]/g, ""));
        expect(lines.every((line) => line.trimEnd().length <= width)).toBe(true);
      }),
    );
  });
});

describe("firstLines", () => {
  it("says where something was left out", () => {
    expect(firstLines("rust off, oiled", 2, 9, count)).toEqual(["rust off,", "oiled"]);
    expect(firstLines("rust off, oiled, tagged", 1, 9, count)).toEqual(["rust off…"]);
  });
});

describe("printable", () => {
  it("drops what does not print", () => {
    expect(printable("a\u0000\u200b\tb\r\nc  ")).toBe("a b\nc");
    expect(printable("￥100")).toBe("¥100");
  });
});
