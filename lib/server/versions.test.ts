import { describe, expect, it } from "vitest";
import { hasVersion, versionHeaders } from "./versions";

const at = new Date("2030-01-07T08:00:00.250Z");
const VERSION = { tag: "x1", lastModified: at };
const asked = (headers: Record<string, string>): Headers => new Headers(headers);

describe("hasVersion", () => {
  it.each([
    ['"x1"', true],
    ['W/"x1"', true],
    ['"a", W/"x1", "b"', true],
    ["*", true],
    ['"x2"', false],
    ["x1", false],
    ["", false],
  ])("takes If-None-Match: %s as %s", (tags, known) => {
    expect(hasVersion(asked({ "if-none-match": tags }), VERSION)).toBe(known);
  });

  it("goes by the date where there is no tag", () => {
    const since = (date: string) => hasVersion(asked({ "if-modified-since": date }), VERSION);
    expect(since(versionHeaders(VERSION)["last-modified"] ?? "")).toBe(true);
    expect(since("Mon, 07 Jan 2030 08:00:00 GMT")).toBe(false);
    expect(since("Mon, 07 Jan 2030 09:00:00 GMT")).toBe(true);
    expect(since("yesterday")).toBe(false);
    expect(hasVersion(asked({}), VERSION)).toBe(false);
  });

  it("goes by the tag alone where both are asked", () => {
    const both = { "if-none-match": '"x2"', "if-modified-since": "Mon, 07 Jan 2030 09:00:00 GMT" };
    expect(hasVersion(asked(both), VERSION)).toBe(false);
  });

  it("sends anew what has no date that can be trusted", () => {
    const since = asked({ "if-modified-since": "Mon, 07 Jan 2030 09:00:00 GMT" });
    expect(hasVersion(since, { tag: "x1", lastModified: null })).toBe(false);
  });
});

describe("versionHeaders", () => {
  it("rounds the date up to the second", () => {
    expect(versionHeaders(VERSION)).toEqual({
      etag: '"x1"',
      "last-modified": "Mon, 07 Jan 2030 08:00:01 GMT",
    });
    expect(versionHeaders({ tag: "x1", lastModified: null })).toEqual({ etag: '"x1"' });
  });
});
