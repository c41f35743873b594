import { describe, expect, it } from "vitest";
import { addDays, calendarDay, endOfDay, mondayOf, startOfDay } from "./calendar";

const day = (text: string): Date => new Date(`${text}T00:00:00Z`);

describe("calendar days of the shop", () => {
  it("are those of its zone, not of the server", () => {
    const instant = new Date("2030-01-07T23:30:00Z");
    expect(calendarDay(instant, "Europe/Berlin")).toEqual(day("2030-01-08"));
    expect(calendarDay(instant, "UTC")).toEqual(day("2030-01-07"));
    expect(calendarDay(instant, "America/Chicago")).toEqual(day("2030-01-07"));
  });

  it("last 23 and 25 hours when the clocks change", () => {
    // IANA time zone database: Europe/Berlin changes on 31 March and 27 October 2030.
    const hours = (text: string): number =>
      (endOfDay(day(text), "Europe/Berlin").getTime() -
        startOfDay(day(text), "Europe/Berlin").getTime()) /
      3_600_000;
    expect(hours("2030-03-31")).toBe(23);
    expect(hours("2030-10-27")).toBe(25);
    expect(hours("2030-06-01")).toBe(24);
  });

  it("belong to weeks that begin on Monday", () => {
    expect(mondayOf(day("2030-01-07"))).toEqual(day("2030-01-07"));
    expect(mondayOf(day("2030-01-13"))).toEqual(day("2030-01-07"));
    expect(addDays(day("2030-02-28"), 1)).toEqual(day("2030-03-01"));
  });
});
