import { amperes, celsius, cubicMetresPerHour } from "@/lib/units";
import { describe, expect, it } from "vitest";
import { airflowNeeded, closedRoomHours, HYDROGEN_LIMITS, openingNeeded } from "./ventilation";

describe("ventilation", () => {
  it("is in proportion to current and to tanks in series", () => {
    expect(airflowNeeded(amperes(40))).toBeCloseTo(2, 12);
    expect(airflowNeeded(amperes(10), 4)).toBeCloseTo(2, 12);
    expect(airflowNeeded(amperes(0))).toBe(0);
    expect(openingNeeded(cubicMetresPerHour(2))).toBe(56);
  });

  it("takes four times as long to 4 % as to 1 %", () => {
    const until = (share: number): number => closedRoomHours(30, amperes(10), share, celsius(20));
    expect(until(HYDROGEN_LIMITS.flammable)).toBeCloseTo(4 * until(HYDROGEN_LIMITS.alarm), 9);
    expect(closedRoomHours(30, amperes(0), 0.01, celsius(20))).toBe(Number.POSITIVE_INFINITY);
  });

  it("refuses impossible rooms and currents", () => {
    expect(() => airflowNeeded(amperes(-1))).toThrow("current");
    expect(() => airflowNeeded(amperes(1), 0)).toThrow("tanks in series");
    expect(() => closedRoomHours(0, amperes(1), 0.01, celsius(20))).toThrow("room volume");
    expect(() => closedRoomHours(30, amperes(1), 0, celsius(20))).toThrow("share of hydrogen");
  });
});
