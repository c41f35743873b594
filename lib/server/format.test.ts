import { describe, expect, it } from "vitest";
import {
  formatDate,
  formatDay,
  formatDuration,
  formatTime,
  formatWhen,
  localInputValue,
} from "./format";

const dublin = { timeZone: "Europe/Dublin", locale: "en-IE" };
const newYork = { timeZone: "America/New_York", locale: "en-US" };

describe("an instant", () => {
  // 2030: clocks go forward on 31 March and back on 27 October in Dublin, at 01:00 UTC.
  it.each([
    ["2030-03-31T00:59:00Z", "00:59"],
    ["2030-03-31T01:00:00Z", "02:00"],
    ["2030-10-27T00:30:00Z", "01:30"],
    ["2030-10-27T01:30:00Z", "01:30"],
    ["2030-10-27T02:30:00Z", "02:30"],
  ])("%s is %s in Dublin", (at, time) => {
    expect(formatTime(new Date(at), dublin)).toBe(time);
    expect(localInputValue(new Date(at), dublin.timeZone)).toBe(`${at.slice(0, 10)}T${time}`);
  });

  // 2030: clocks go forward on 10 March and back on 3 November in New York, at 02:00 local time.
  it.each([
    ["2030-03-10T06:59:00Z", "01:59"],
    ["2030-03-10T07:00:00Z", "03:00"],
    ["2030-11-03T05:30:00Z", "01:30"],
    ["2030-11-03T06:30:00Z", "01:30"],
  ])("%s is %s in New York", (at, time) => {
    expect(formatTime(new Date(at), newYork)).toBe(time);
  });

  it("says midnight as 00:00 of the new day, also where people usually count to twelve", () => {
    const midnight = new Date("2030-01-08T05:00:00Z");
    expect(formatTime(midnight, newYork)).toBe("00:00");
    expect(formatWhen(midnight, newYork)).toMatch(/^Tue,? Jan 8,? 00:00$/);
    expect(localInputValue(midnight, newYork.timeZone)).toBe("2030-01-08T00:00");
  });

  it("falls on the local day, not on that of Greenwich", () => {
    const lateEvening = new Date("2030-01-08T03:30:00Z");
    expect(formatDate(lateEvening, newYork)).toBe("Jan 7, 2030");
    expect(formatDate(lateEvening, dublin)).toBe("8 Jan 2030");
    expect(formatWhen(lateEvening, dublin)).toMatch(/^Tue,? 8 Jan,? 03:30$/);
  });
});

describe("a stored day", () => {
  it.each([newYork, dublin, { timeZone: "Pacific/Auckland", locale: "en-NZ" }])(
    "is the same day in $timeZone",
    (place) => {
      expect(formatDay(new Date("2030-01-07T00:00:00Z"), place)).toMatch(/^Mon,? .*\b7\b.*2030$/);
    },
  );
});

describe("formatDuration", () => {
  const MINUTE = 60_000;
  it.each([
    [0, "0 min"],
    [29_999, "0 min"],
    [30_000, "1 min"],
    [59 * MINUTE, "59 min"],
    [59.6 * MINUTE, "1 h"],
    [90 * MINUTE, "1 h 30 min"],
    [120 * MINUTE, "2 h"],
    [(47 * 60 + 59) * MINUTE, "47 h 59 min"],
    [48 * 60 * MINUTE, "2 d 0 h"],
    [(49 * 60 + 59) * MINUTE, "2 d 1 h"],
    [-5 * MINUTE, "0 min"],
  ])("%d ms is %s", (milliseconds, words) => {
    expect(formatDuration(milliseconds)).toBe(words);
  });
});
