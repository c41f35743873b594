import { describe, expect, it } from "vitest";
import type { FieldFindings } from "@/lib/treatment";
import type { FieldOfPart } from "./see";
import { fieldInWords } from "./sheet-words";

const hours = (p50: number) => ({ p10: p50 / 2, p50, p90: 2 * p50 });
const arrangement = {
  shapeLengthM: 3,
  currentA: 6.8,
  spread: { outside: 1.4, inside: 0.07 },
  hours: { outside: hours(3.4), inside: hours(876_600), worst: hours(876_600) },
  lagShare: 0.4,
};
const findings: FieldFindings = {
  cells: 800_000,
  conductivitySPerM: 0.28,
  shapeLengthM: { value: 3.001, error: 0.0042 },
  wetAreaM2: 0.61,
  insideShare: 0.495,
  planned: arrangement,
  innerAnodes: [
    {
      ...arrangement,
      hours: { outside: hours(3), inside: hours(9), worst: hours(9) },
      form: { kind: "RODS", rods: [{ from: [0, 0, 0.1], to: [0, 0, 0.3] }], radiusM: 0.006 },
      words: "A rod of {12 mm} upright in the middle",
      clearanceMm: 83.4,
      savesH: 60.2,
    },
  ],
  turns: [
    { words: "On its side, {420 mm} along", planned: false, hours: hours(8), shapeLengthM: 2.8 },
    { words: "As planned", planned: true, hours: hours(69), shapeLengthM: 3 },
  ],
  wear: [
    { fromM: 0, toM: 0.18, ratio: 0.8 },
    { fromM: 0.18, toM: 0.36, ratio: 1.2 },
  ],
};
const field: FieldOfPart = {
  id: "1",
  state: "DONE",
  progress: 1,
  why: "",
  findings,
  outdated: false,
  wanted: true,
  stamp: "1",
};

describe("the field in words", () => {
  it("says hours, error of two grids, inner anodes with clearance, turns, and wear from the top down", () => {
    const { notice, facts, tables } = fieldInWords(field, "METRIC", null);
    expect(notice).toBeNull();
    expect(facts.map(({ value }) => value)).toEqual([
      "about 3.4 h, nine in ten within 6.8 h",
      "never by itself",
      "6.8 A",
      "3 ± 0.0042 m",
      "0.61 m², 50 % of it inside",
      "40 % of the area",
    ]);
    expect(tables.map(({ rows }) => rows)).toEqual([
      [
        [
          "A rod of 12 mm upright in the middle",
          "83 mm",
          "about 9 h, nine in ten within 18 h",
          "60.2 h",
        ],
      ],
      [
        ["On its side, 420 mm along", "about 8 h, nine in ten within 16 h", ""],
        ["As planned", "about 69 h, nine in ten within 138 h", "as planned"],
      ],
      [
        ["180 to 360 mm", "1.2 ×"],
        ["0 to 180 mm", "0.8 ×"],
      ],
    ]);
  });

  it("gives the figures of what the plan hangs inside", () => {
    const [best] = findings.innerAnodes;
    const { facts } = fieldInWords(field, "METRIC", best ?? null);
    expect(facts.slice(0, 2).map(({ value }) => value)).toEqual([
      "A rod of 12 mm upright in the middle",
      expect.stringContaining("about"),
    ]);
    expect(facts.map(({ label }) => label)).toContain(
      "Shape length with nothing inside, error of two grids",
    );
  });

  it("is in the units of the shop, without braces", () => {
    const words = JSON.stringify(fieldInWords(field, "US", null).tables);
    expect(words).toContain("3 5/16 in");
    expect(words).not.toMatch(/ mm|\{\d/);
  });

  it("says what is of before a change, what failed, and what is not there yet", () => {
    expect(fieldInWords({ ...field, outdated: true }, "METRIC", null).notice).toContain(
      "before the last",
    );
    const failed = { ...field, findings: null, state: "FAILED" as const, why: "Too large." };
    expect(fieldInWords(failed, "METRIC", null).notice).toBe(
      "It could not be worked out. Too large.",
    );
    expect(fieldInWords(null, "METRIC", null).notice).toContain("not worked out yet");
  });

  it("leaves out tables of what was not worked out", () => {
    const bare = { ...findings, innerAnodes: [], turns: [], wear: [] };
    const { tables } = fieldInWords({ ...field, findings: bare }, "METRIC", null);
    expect(tables.map(({ note }) => note)).toEqual([
      "Nothing hung inside helps, or there is no room for it.",
    ]);
  });
});
