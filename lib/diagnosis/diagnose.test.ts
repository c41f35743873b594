import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import { diagnose, type Diagnosis } from "./diagnose";
import type { Expectation, RunReading } from "./expectation";
import { EXPECTED, readingAt } from "./fixtures";

function told(
  readings: readonly RunReading[],
  change: Partial<Expectation> = {},
  answers: Record<string, string> = {},
): Diagnosis {
  const diagnosis = diagnose(readings, { ...EXPECTED, ...change }, answers);
  if (!diagnosis) throw new Error("there are readings");
  return diagnosis;
}
const MUCH_KNOWN: Partial<Expectation> = {
  conductivity: { ratio: 0.8, errorShare: 0.1 },
  anodeWearShare: 0.4,
  clampHours: 120,
  brushedHours: 90,
  meterNoise: 0.05,
};
const codes = ({ findings }: Diagnosis) => findings.map(({ code, severity }) => [code, severity]);

describe("diagnose", () => {
  it.each([
    ["all is well", [readingAt(1)], {}],
    ["the lead is open", [readingAt(1), readingAt(2, 0)], {}],
    ["much is known", [readingAt(1, 0.5, { temperatureC: 18, levelMm: 290 })], MUCH_KNOWN],
  ])("shows its whole working where %s", (_when, readings, change) => {
    const { working, ranked, next } = told(readings, change);
    expectWholeFigure(working);
    expect(working.unit).toBe("%");
    for (const { title, shows } of ranked) expect(`${title} ${shows}`).toMatch(/\w{3}/);
    if (next) expect(JSON.stringify(next)).not.toContain('""');
  });

  it("says nothing without readings", () => {
    expect(diagnose([], EXPECTED)).toBeNull();
  });

  it("is silent on the board when all is as expected", () => {
    const diagnosis = told([readingAt(1)]);
    expect(diagnosis.verdict).toBe("as expected");
    expect(diagnosis.findings).toEqual([]);
    expect(diagnosis.headline).toBe("As it should be, as far as the meter tells.");
    expect(diagnosis.ranked[0]).toMatchObject({ cause: "AS_IT_SHOULD", title: "As it should be" });
  });

  it("names an open lead, to be looked at now with the supply off", () => {
    const diagnosis = told([readingAt(1), readingAt(2, 0)]);
    expect(diagnosis.verdict).toBe("likely");
    expect(diagnosis.headline).toBe("Likely: positive lead open.");
    expect(codes(diagnosis)).toEqual([["LEAD_OPEN", "look now"]]);
    expect(diagnosis.findings[0]?.seen).toMatch(
      /^0\.00 A at 13\.8 V; \d\.\d A to \d\.\d A planned\.$/,
    );
    expect(diagnosis.findings[0]?.nextCheck).toMatch(
      /^Switch the supply off at the wall.+ Follow the positive lead to the anode/,
    );
    expect(diagnosis.ranked[0]?.mend).toBe(diagnosis.findings[0]?.nextCheck);
  });

  it("is not sure of one low reading: names two causes and the one check that tells", () => {
    const diagnosis = told([readingAt(1, 0.4)]);
    expect(diagnosis.verdict).toBe("not sure");
    expect(diagnosis.headline).toMatch(/^Not sure: .+, or .+\.$/);
    expect(codes(diagnosis)).toEqual([["NOT_SURE", "watch"]]);
    expect(diagnosis.findings[0]?.title).toBe(diagnosis.headline.slice(0, -1));
    expect(diagnosis.findings[0]?.nextCheck).toBe(diagnosis.next?.words);
    expect(diagnosis.next?.tier).toBe("look");
    const named = diagnosis.ranked.map(({ cause }) => cause);
    expect(named).toContain("BATH_WEAK");
    expect(named).toContain("POOR_CONTACT");
  });

  it("has the supply off first where nothing is sure but something presses", () => {
    // Hardly a current: an open lead and one that corrodes through look nearly the same.
    const diagnosis = told([readingAt(1), readingAt(2, 0.02)]);
    expect(diagnosis.verdict).toBe("not sure");
    expect(codes(diagnosis)).toEqual([["NOT_SURE", "look now"]]);
    expect(diagnosis.next?.words).not.toMatch(/^Switch/);
    expect(diagnosis.findings[0]?.nextCheck).toBe(
      `Switch the supply off at the wall before touching a clip. ${diagnosis.next?.words}`,
    );
  });

  it("says that nothing fits where nothing does", () => {
    const diagnosis = told([readingAt(1), readingAt(2, 1, { currentA: 0.04, voltsV: 6 })]);
    expect(diagnosis.headline).toBe("Not sure: no cause here fits the readings.");
    expect(diagnosis.next).toBeNull();
    expect(diagnosis.findings[0]?.nextCheck).toMatch(/Read the meter again/);
  });

  it("comes to think of something else when a check speaks against the cause", () => {
    const readings = [readingAt(1), readingAt(2, 0, { voltsV: 0 })];
    expect(told(readings).ranked.map(({ cause }) => cause)).toEqual(["SUPPLY_OFF"]);
    const { ranked } = told(readings, {}, { SUPPLY: "on" });
    expect(ranked.map(({ cause }) => cause)).toEqual(["SUPPLY_OFF", "SOMETHING_ELSE"]);
    // 0.07 against 0.98 of how often a lamp is on: odds of 66 fall to some 5.
    expect(ranked[1]?.probability).toBeGreaterThan(0.15);
    expect(ranked[1]?.probability).toBeLessThan(0.2);
  });

  it("says that all may be well where that is among the likeliest", () => {
    const diagnosis = told([readingAt(1, 0.7)]);
    expect(diagnosis.verdict).toBe("not sure");
    expect(diagnosis.headline).toBe("Not sure: weak bath, or nothing at all.");
  });

  it("is narrowed by an answer, which can be taken back", () => {
    const readings = [readingAt(1, 0.4)];
    const answered = told(readings, {}, { CONDUCTIVITY: "low", METER: "steady", CLIP: "nonsense" });
    expect(answered.headline).toBe("Likely: weak bath.");
    expect(answered.answered).toEqual([
      { code: "METER", ask: expect.stringMatching(/^Watch the meter/), words: "Steady" },
      { code: "CONDUCTIVITY", ask: expect.stringMatching(/conductivity meter/), words: "Too low" },
    ]);
    expect(["METER", "CONDUCTIVITY"]).not.toContain(answered.next?.code);
    expect(told(readings).verdict).toBe("not sure");
  });

  it("takes readings in any order", () => {
    const readings = [1, 0.98, 0.94, 0.83, 0.6, 0.3].map((share, hour) => readingAt(hour, share));
    const mixed = [readings[3], readings[5], readings[0], readings[2], readings[4], readings[1]];
    const inOrder = told(readings, { clampHours: 200 });
    expect(inOrder.ranked[0]?.cause).toBe("LEAD_CORRODED");
    expect(
      told(
        mixed.filter((one) => one !== undefined),
        { clampHours: 200 },
      ),
    ).toEqual(inOrder);
  });

  it("ranks at most five, likeliest first, and none that hardly counts", () => {
    const { ranked } = told([readingAt(1, 0.4)]);
    const probabilities = ranked.map(({ probability }) => probability);
    expect(probabilities).toEqual([...probabilities].sort((one, other) => other - one));
    expect(ranked.length).toBeLessThanOrEqual(5);
    expect(Math.min(...probabilities)).toBeGreaterThanOrEqual(0.02);
    expect(told([readingAt(1), readingAt(2, 0)]).ranked.length).toBeLessThan(3);
  });

  it("says once what a safety rule says already", () => {
    const touch = told([readingAt(1), readingAt(2, 1, { currentA: 40, voltsV: 7.8 })]);
    expect(touch.ranked[0]?.cause).toBe("TOUCHING");
    expect(codes(touch)).toEqual([["TOUCHING", "look now"]]);
    const level = told([readingAt(1, 0.6, { levelMm: 170 }), readingAt(2, 0.6, { levelMm: 170 })]);
    expect(level.ranked[0]?.cause).toBe("LEVEL_FALLEN");
    expect(codes(level)).toEqual([["LEVEL_LOW", "look now"]]);
  });

  it("puts heat beside the cause, and what presses first", () => {
    const weak = { conductivity: { ratio: 0.4, errorShare: 0.1 } };
    const readings = [0.5, 1, 2, 3].map((hour) => readingAt(hour, 0.4, { temperatureC: 18 }));
    const hot = told([...readings, readingAt(4, 0.5, { temperatureC: 55 })], weak);
    expect(codes(hot)).toEqual([
      ["HOT", "look now"],
      ["BATH_WEAK", "watch"],
    ]);
  });

  it("shows its working: the readings, the noise, what was known and what each cause would show", () => {
    const readings = [
      ...[1, 2, 3, 4, 5, 6].map((hour) => readingAt(hour)),
      readingAt(7, 0, { temperatureC: 21, levelMm: 298 }),
    ];
    const { working } = told(readings, { conductivity: { ratio: 0.97, errorShare: 0.1 } });
    expect(working).toMatchObject({
      name: "probability of “Positive lead open”",
      unit: "%",
      standing: "assumption",
    });
    expect(working.value).toBeGreaterThan(90);
    expect(working.formula).toMatch(/^P\(cause \| readings\) = /);
    const inputs = new Map(working.inputs.map((input) => [input.name, input]));
    expect([...inputs.keys()].filter((name) => name.startsWith("reading"))).toHaveLength(6);
    expect(inputs.get("reading 7.0 h after loading")).toMatchObject({
      value: "13.8 V, 0.00 A, {21 °C}, level {298 mm}",
      standing: "measured here",
    });
    expect(inputs.get("noise of one reading")?.value).toBe("5 %");
    expect(inputs.get("this tank’s bath resistance, off the plan by about")?.value).toBe("12 %");
    expect(inputs.get("charge this bath has passed")).toMatchObject({ value: 2, unit: "A·h/L" });
    expect(inputs.get("wear of the anode, of what it may lose")?.value).toBe("20 %");
    expect(inputs.get("under current since the clamps were looked at")?.value).toBe("30 h");
    expect(inputs.get("under current since the anode was brushed")?.value).toBe("30 h");
    expect(inputs.get("measured conductivity over planned")?.value).toBe("0.97");
    expect(inputs.get("Positive lead open")).toMatchObject({
      value: expect.stringMatching(/^\d+ % before, 9\d % after$/),
      source: "would show 0.00 A at 13.8 V now",
    });
    const [low, high] = [EXPECTED.currentLowA.toFixed(1), EXPECTED.currentHighA.toFixed(1)];
    expect(inputs.get("planned current")?.value).toBe(`${low} A to ${high} A`);
  });

  it("leaves out of its working what nobody knows", () => {
    const unknown = { anodeWearShare: null, clampHours: null, brushedHours: null };
    const { working } = told([readingAt(1)], { ...unknown, meterNoise: 0.08 });
    const names = working.inputs.map(({ name }) => name).join();
    expect(names).not.toMatch(/wear|clamps|brushed|conductivity/);
    expect(working.inputs.find(({ name }) => name.startsWith("noise"))?.value).toBe("8 %");
  });

  it("always says to switch off first when it is to be looked at now, and ranks what presses first", () => {
    const anyReading = fc.record({
      atMs: fc.constant(3_600_000),
      voltsV: fc.double({ min: -15, max: 15, noNaN: true }),
      currentA: fc.double({ min: -5, max: 50, noNaN: true }),
      temperatureC: fc.option(fc.double({ min: -5, max: 90, noNaN: true })),
      levelMm: fc.option(fc.double({ min: 0, max: 400, noNaN: true })),
    });
    fc.assert(
      fc.property(fc.array(anyReading, { minLength: 1, maxLength: 3 }), (readings) => {
        const { findings, ranked } = told(readings);
        for (const { severity, nextCheck } of findings) {
          if (severity === "look now") expect(nextCheck).toMatch(/^Switch the supply off/);
        }
        const order = findings.map(({ severity }) => severity);
        expect(order).toEqual([...order].sort());
        for (const { probability } of ranked) expect(Number.isFinite(probability)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it("refuses a band that is none", () => {
    expect(() =>
      diagnose([readingAt(1)], { ...EXPECTED, currentLowA: 9, currentHighA: 4 }),
    ).toThrow("0 ≤ low ≤ high in A, got 9 to 4");
  });
});
