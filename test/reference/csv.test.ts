/** CSV against RFC 4180 section 2, and against the formula injection that OWASP describes. */
import { describe, expect, it } from "vitest";
import { csv } from "@/lib/documents";

const text = (bytes: Uint8Array) => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
const body = (...given: Parameters<typeof csv>) => text(csv(...given)).slice(1);

describe("RFC 4180", () => {
  it("rules 1 to 4: records end in CRLF, the head is a record, fields are parted by commas", () => {
    expect(body(["aaa", "bbb", "ccc"], [["zzz", "yyy", "xxx"]])).toBe(
      "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
    );
    expect(() => csv(["aaa", "bbb"], [["zzz"]])).toThrow("row 1 has 1 cells, the head has 2");
  });

  it("rule 6: fields with line breaks, quotes and commas are quoted", () => {
    expect(body(["aaa"], [["b\r\nbb"], ["a,b"]])).toBe('aaa\r\n"b\r\nbb"\r\n"a,b"\r\n');
  });

  it("rule 7: a quote inside is doubled", () => {
    expect(body(["aaa"], [['b"bb']])).toBe('aaa\r\n"b""bb"\r\n');
  });
});

describe("what spreadsheets make of it", () => {
  it("begins with the UTF-8 byte order mark", () => {
    expect([...csv(["zł"], []).subarray(0, 5)]).toEqual([0xef, 0xbb, 0xbf, 0x7a, 0xc5]);
  });

  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", '=HYPERLINK("http://x")'])(
    "does not let %j run as a formula",
    (cell) => {
      expect(body(["a"], [[cell]])).toMatch(/^a\r\n"?'/);
    },
  );

  it("keeps numbers numbers, and writes the rest plainly", () => {
    const row = [-12.5, 0.001, null, true, new Date("2030-01-07T08:00:00Z")] as const;
    expect(body(["a", "b", "c", "d", "e"], [row])).toBe(
      "a,b,c,d,e\r\n-12.5,0.001,,yes,2030-01-07T08:00:00.000Z\r\n",
    );
    expect(() => csv(["a"], [[Number.NaN]])).toThrow("must be finite");
  });
});
