import { describe, expect, it } from "vitest";
import { isoWeeksBetween, tankCapacity } from "./index";

const at = (text: string): number => Date.parse(text);
const BERLIN = "Europe/Berlin";

describe("tankCapacity", () => {
  const week = { fromMs: at("2026-11-22T23:00Z"), untilMs: at("2026-11-29T23:00Z") };

  it("divides a week's 168 hours into used and free, tank by tank", () => {
    const runs = [
      { tankId: "long", fromMs: at("2026-11-23T08:00Z"), untilMs: at("2026-11-23T18:00Z") },
      { tankId: "long", fromMs: at("2026-11-29T20:00Z"), untilMs: at("2026-11-30T06:00Z") },
    ];
    const weeks = tankCapacity({ tankIds: ["long", "tub"], runs, timeZone: BERLIN, ...week });
    expect(weeks).toEqual([
      { tankId: "long", year: 2026, week: 48, monday: "2026-11-23", usedHours: 13, freeHours: 155 },
      { tankId: "tub", year: 2026, week: 48, monday: "2026-11-23", usedHours: 0, freeHours: 168 },
    ]);
  });

  it("counts only hours when somebody is there, where asked", () => {
    const openings = [{ fromMs: at("2026-11-23T07:00Z"), untilMs: at("2026-11-23T16:00Z") }];
    const runs = [
      { tankId: "tub", fromMs: at("2026-11-23T12:00Z"), untilMs: at("2026-11-24T12:00Z") },
    ];
    const [first] = tankCapacity({ tankIds: ["tub"], runs, openings, timeZone: BERLIN, ...week });
    expect(first).toMatchObject({ usedHours: 4, freeHours: 5 });
  });

  it("gives weeks in which the clocks change their real length", () => {
    const hoursFrom = (fromMs: number): number => {
      const [span] = isoWeeksBetween(fromMs, fromMs + 1, BERLIN);
      return ((span?.untilMs ?? 0) - (span?.fromMs ?? 0)) / 3_600_000;
    };
    expect(hoursFrom(at("2026-03-29T12:00Z"))).toBe(167);
    expect(hoursFrom(at("2026-10-25T12:00Z"))).toBe(169);
    expect(hoursFrom(at("2026-11-25T12:00Z"))).toBe(168);
  });
});
