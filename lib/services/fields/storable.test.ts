import { describe, expect, it } from "vitest";
import { storable } from "./storable";

describe("findings as JSON", () => {
  it("are what they were, with a hundred years for what never comes clean", () => {
    const findings = { hours: [{ p50: 4, p90: Infinity }], inside: null, words: "a rod" };
    const kept = storable(findings);
    expect(kept).toEqual({ hours: [{ p50: 4, p90: 876_600 }], inside: null, words: "a rod" });
    expect(JSON.parse(JSON.stringify(kept))).toEqual(kept);
  });

  it("are refused where a number is none, saying where", () => {
    expect(() => storable({ turns: [{ hours: { p50: Number.NaN } }] })).toThrow(
      "findings.turns[0].hours.p50 is not a number",
    );
  });
});
