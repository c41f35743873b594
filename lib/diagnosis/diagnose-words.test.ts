import { describe, expect, it } from "vitest";
import { diagnose, type Diagnosis } from "./diagnose";
import type { Expectation, RunReading } from "./expectation";
import { EXPECTED, readingAt } from "./fixtures";
import { likelihoodWord } from "./words";

function told(
  readings: readonly RunReading[],
  change: Partial<Expectation> = {},
  answers: Record<string, string> = {},
): Diagnosis {
  const diagnosis = diagnose(readings, { ...EXPECTED, ...change }, answers);
  if (!diagnosis) throw new Error("there are readings");
  return diagnosis;
}
const codes = ({ findings }: Diagnosis) => findings.map(({ code }) => code);
const causes = ({ ranked }: Diagnosis) => ranked.map(({ cause }) => cause);
const LOOKED = {
  METER: "steady",
  SUPPLY: "on",
  LEVEL: "fine",
  GAP: "clear",
  LEADS: "right",
  SLUDGE: "clear",
};
const OFF = "Switch the supply off at the wall before touching a clip.";

describe("what a diagnosis says when it is not sure", () => {
  it("names the two likeliest, though all may be well in third place or later", () => {
    const diagnosis = told([readingAt(1, 0.65), readingAt(3, 0.65)]);
    expect(causes(diagnosis).indexOf("AS_IT_SHOULD")).toBeGreaterThan(1);
    expect(diagnosis.headline).toBe("Not sure: weak bath, or level fallen.");
  });

  it("says once that the supply goes off, where the next check begins with it", () => {
    const diagnosis = told([readingAt(1), readingAt(2, 0.02)], {}, LOOKED);
    expect(diagnosis.verdict).toBe("not sure");
    expect(diagnosis.next?.tier).toBe("touch");
    const [finding] = diagnosis.findings;
    expect(finding).toMatchObject({ code: "NOT_SURE", severity: "look now" });
    expect(finding?.nextCheck).toBe(diagnosis.next?.words);
    expect(finding?.nextCheck.split(OFF)).toHaveLength(2);
  });
});

describe("what a diagnosis says when one cause stands out", () => {
  const open = told([readingAt(1), readingAt(2, 0)]);

  it("is its name, its mending and how sure it is", () => {
    expect(open.findings[0]?.title).toBe("Positive lead open");
    const [first] = open.ranked;
    expect(first?.word).toBe(likelihoodWord(first?.probability ?? 0));
    expect(first?.word).toBe("almost sure");
    expect(first?.shows).toMatch(/Full volts, and no current/);
  });

  it("has the supply off first whatever is mended", () => {
    for (const { mend } of told([readingAt(1, 0.4)]).ranked) {
      expect(mend.startsWith(`${OFF} `)).toBe(true);
      expect(mend.length).toBeGreaterThan(OFF.length + 20);
    }
  });

  it("watches what can wait", () => {
    const strong = told([readingAt(0.5, 1.7), readingAt(3, 1.7)], {
      conductivity: { ratio: 2, errorShare: 0.1 },
    });
    expect(strong.findings).toMatchObject([{ code: "BATH_STRONG", severity: "watch" }]);
    expect(strong.findings[0]?.nextCheck).toBe(strong.ranked[0]?.mend);
  });
});

describe("findings of the rules beside the cause", () => {
  it("stand beside a cause that is another thing", () => {
    const open = told([readingAt(1, 1, { levelMm: 300 }), readingAt(2, 0, { levelMm: 270 })]);
    expect(codes(open)).toEqual(["LEAD_OPEN", "LEVEL_LOW"]);
    const weak = told(
      [1, 2, 3].map((hour) => readingAt(hour, 0.4, { levelMm: 285 })),
      { conductivity: { ratio: 0.42, errorShare: 0.1 } },
    );
    expect(codes(weak)).toEqual(["BATH_WEAK", "LEVEL_LOW"]);
  });

  it("leave a fallen level that nobody measured to be said", () => {
    const readings = [
      readingAt(1, 0.6, { temperatureC: 18 }),
      readingAt(2, 0.65, { temperatureC: 55 }),
    ];
    expect(codes(told(readings, {}, { LEVEL: "low" }))).toEqual(["HOT", "LEVEL_FALLEN"]);
  });
});

describe("the working of a diagnosis", () => {
  it("counts hours from loading, whenever that was", () => {
    const readings = [readingAt(1, 0.5), readingAt(4, 0.4, { temperatureC: 21 })];
    const later = readings.map((one) => ({ ...one, atMs: one.atMs + 36_000_000 }));
    expect(told(later, { loadedMs: 36_000_000 })).toEqual(told(readings));
  });

  it("shows the five likeliest causes and what each would show", () => {
    const { working, ranked } = told([readingAt(1, 0.4)]);
    const shown = working.inputs.filter(({ value }) => /before, .* after/.test(String(value)));
    expect(shown).toHaveLength(5);
    expect(shown.map(({ name }) => name).slice(0, ranked.length)).toEqual(
      ranked.map(({ title }) => title),
    );
    for (const { source } of shown) expect(source).toMatch(/^would show \d.* A at \d.* V now$/);
  });

  it("leaves out what a cause would show where none can say", () => {
    const { working } = told([readingAt(1), readingAt(2, 1, { currentA: 0.04, voltsV: 6 })]);
    const strange = working.inputs.find(({ name }) => name === "Something else");
    expect(strange).not.toHaveProperty("source");
  });

  it("says where its numbers come from", () => {
    const { working } = told([readingAt(1)], { conductivity: { ratio: 1, errorShare: 0.1 } });
    expect(working.source).toMatch(/Bayes’ theorem/);
    expect(working.note).toMatch(/assumptions.*Two things wrong at once are not looked for/);
    const standing = (name: RegExp) =>
      working.inputs.find((input) => name.test(input.name))?.standing;
    expect(standing(/^reading/)).toBe("measured here");
    expect(standing(/noise/)).toBe("common practice");
    expect(standing(/planned current/)).toBe("assumption");
    expect(standing(/clamps/)).toBe("measured here");
    expect(standing(/measured conductivity/)).toBe("measured here");
  });
});
