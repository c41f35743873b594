import { describe, expect, it } from "vitest";
import { diagnose } from "./diagnose";
import type { Expectation, RunReading } from "./expectation";
import { EXPECTED, readingAt } from "./fixtures";

/**
 * What the diagnosis says of readings as benches see them, to the whole percent. Not right or wrong by itself: the
 * simulated faults judge that. A change of the model, its priors or its spreads shows here, and is then a decision.
 */
const SEEN: readonly (readonly [string, readonly RunReading[], Partial<Expectation>])[] = [
  ["all as planned", [readingAt(0.5), readingAt(2), readingAt(6)], {}],
  ["low from the start", [readingAt(0.5, 0.55), readingAt(3, 0.56), readingAt(6, 0.55)], {}],
  [
    "low, conductivity as planned",
    [readingAt(0.5, 0.55), readingAt(3, 0.55)],
    { conductivity: { ratio: 1, errorShare: 0.1 } },
  ],
  ["low, with a worn anode", [readingAt(0.5, 0.55), readingAt(3, 0.55)], { anodeWearShare: 0.95 }],
  ["high from the start", [readingAt(0.5, 1.6), readingAt(3, 1.6)], {}],
  [
    "sinking and settling",
    [readingAt(0.5), readingAt(2, 0.75), readingAt(5, 0.55), readingAt(9, 0.5)],
    {},
  ],
  [
    "sinking faster and faster",
    [readingAt(0.5), readingAt(4, 0.95), readingAt(8, 0.7), readingAt(9, 0.3)],
    { clampHours: 300 },
  ],
  [
    "jumping about",
    [readingAt(0.5, 0.8), readingAt(1, 0.45), readingAt(1.5, 0.85), readingAt(2, 0.5)],
    {},
  ],
  [
    "level fallen by 60 mm",
    [readingAt(0.5, 1, { levelMm: 300 }), readingAt(5, 0.8, { levelMm: 240 })],
    {},
  ],
  [
    "an old bath",
    [readingAt(0.5, 0.6), readingAt(3, 0.6)],
    { bathChargeAhPerL: 25, conductivity: { ratio: 1, errorShare: 0.1 } },
  ],
  ["a jump up at few volts", [readingAt(0.5), readingAt(3, 2.5, { voltsV: 4 })], {}],
  ["nothing at full volts", [readingAt(0.5), readingAt(3, 0)], {}],
  ["nothing at all", [readingAt(0.5), readingAt(3, 0, { voltsV: 0 })], {}],
];

describe("readings as benches see them", () => {
  it.each(SEEN)("%s", (_what, readings, change) => {
    const diagnosis = diagnose(readings, { ...EXPECTED, ...change });
    if (!diagnosis) throw new Error("there are readings");
    expect({
      ranked: diagnosis.ranked.map(
        ({ cause, probability }) => `${cause} ${Math.round(100 * probability)}`,
      ),
      findings: diagnosis.findings.map(
        ({ severity, title, nextCheck }) => `${severity}: ${title}. ${nextCheck}`,
      ),
      next: diagnosis.next?.code ?? null,
    }).toMatchSnapshot();
    expect(diagnosis.working.value).toBeCloseTo(100 * (diagnosis.ranked[0]?.probability ?? 0), 9);
  });
});
