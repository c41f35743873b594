import type { Supply } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import type { Finding, Limits, RunReading } from "./expectation";
import { safetyFindings } from "./safety";

const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13,
  innerResistanceOhm: 0.15,
  ratedCurrentA: 10,
  dutyFactor: 0.8,
};
const limits: Limits = { supply: charger, currentLowA: 2, currentHighA: 20, workingLevelMm: 300 };
const OFF = "Switch the supply off at the wall before touching a clip.";

function found(change: Partial<RunReading>, other: Partial<Limits> = {}): Finding {
  const reading = { atMs: 0, voltsV: 12.5, currentA: 3, temperatureC: 20, levelMm: 300, ...change };
  const [finding, ...others] = safetyFindings(reading, { ...limits, ...other });
  if (!finding || others.length > 0) throw new Error("one finding is expected");
  return finding;
}

describe("what a safety rule says", () => {
  it("of reversed leads: below zero, off first, and which lead is the part's", () => {
    expect(found({ currentA: -3, voltsV: -12 })).toEqual({
      code: "REVERSED",
      severity: "look now",
      title: "Leads reversed",
      seen: "The meter shows -12.0 V and -3.0 A: below zero.",
      nextCheck: `${OFF} The part must be on the negative lead; the other way round it is eaten.`,
    });
  });

  it("of a touch: by how much, and where to look", () => {
    const touch = found({ currentA: 30, voltsV: 5 });
    expect(touch.title).toBe("Part touching the anode");
    expect(touch.seen).toMatch(/^30\.0 A at only 5\.0 V; at most 20\.0 A expected/);
    expect(touch.nextCheck).toMatch(/part, hanger or clip meets the anode/);
  });

  it("of a supply that gives too much: feel it, or switch it off and look for a touch", () => {
    const warm = found({ currentA: 9 });
    expect(warm.title).toBe("Supply above what it can give for hours");
    expect(warm.seen).toBe("9.0 A; rated 10.0 A, 8.0 A without end.");
    expect(warm.nextCheck).toMatch(/^Feel the supply without opening it\. If it is hot, switch it/);
    const over = found({ currentA: 12 });
    expect(over.title).toBe("Supply overloaded");
    expect(over.nextCheck.startsWith(OFF)).toBe(true);
    expect(over.nextCheck).toMatch(/touch between part and anode.*thin the bath.*take out a part/);
  });

  it.each<[Supply, string]>([
    [
      { kind: "BENCH", voltageV: 15, currentLimitA: 5, dutyFactor: 0.5 },
      "6.0 A; rated 5.0 A, 2.5 A without end.",
    ],
    [
      { kind: "BATTERY", openVoltageV: 12.6, innerResistanceOhm: 0.02, capacityAh: 50 },
      "6.0 A; rated 5.0 A, 5.0 A without end.",
    ],
  ])("of what %j is rated at", (supply, seen) => {
    expect(found({ currentA: 6 }, { supply })).toMatchObject({ code: "OVERLOAD", seen });
  });

  it("of heat and cold: the temperature, and what it does", () => {
    const hot = found({ temperatureC: 56.4 });
    expect(hot.title).toBe("Bath too hot");
    expect(hot.seen).toBe("The bath is at {56 °C}.");
    expect(hot.nextCheck).toBe(
      `${OFF} Let it cool below {40 °C}; then look for a touch or too strong a bath.`,
    );
    expect(found({ temperatureC: 45 }).title).toBe("Bath getting hot");
    expect(found({ temperatureC: 45 }).nextCheck.startsWith(OFF)).toBe(true);
    const cold = found({ temperatureC: 2 });
    expect(cold.title).toBe("Bath too cold");
    expect(cold.seen).toBe("The bath is at {2 °C}.");
    expect(cold.nextCheck).toMatch(/less current and longer hours.*crystals of soda/);
  });

  it("of a low level: how low, and that water alone is topped up", () => {
    const low = found({ levelMm: 285 });
    expect(low).toMatchObject({ code: "LEVEL_LOW", severity: "watch", title: "Level low" });
    expect(low.seen).toBe("{285 mm}, {15 mm} under the working level.");
    expect(low.nextCheck).toBe(
      `${OFF} Look under the tank for a leak, then top up with plain water: soda does not evaporate.`,
    );
  });
});
