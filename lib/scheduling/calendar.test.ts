import { describe, expect, it } from "vitest";
import {
  dayAt,
  instantOf,
  localTimeAt,
  openingsBetween,
  type ShopCalendar,
  startOfDay,
} from "./index";

const at = (text: string): number => Date.parse(text);
const everyDay = (opensMinute: number, closesMinute: number): ShopCalendar["hours"] =>
  [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, opensMinute, closesMinute }));
const shop = (overrides: Partial<ShopCalendar> = {}): ShopCalendar => ({
  timeZone: "Europe/Berlin",
  hours: everyDay(8 * 60, 17 * 60),
  closedDays: [],
  ...overrides,
});
const text = (ms: number): string => new Date(ms).toISOString();

describe("openingsBetween", () => {
  it("opens by the wall clock, in winter and in summer", () => {
    const [winter] = openingsBetween(shop(), at("2026-01-12T00:00Z"), at("2026-01-12T20:00Z"));
    const [summer] = openingsBetween(shop(), at("2026-07-13T00:00Z"), at("2026-07-13T20:00Z"));
    expect(text(winter?.fromMs ?? 0)).toBe("2026-01-12T07:00:00.000Z");
    expect(text(summer?.fromMs ?? 0)).toBe("2026-07-13T06:00:00.000Z");
  });

  it("opens at 08:00 on the days the clocks change: Berlin in March and October", () => {
    const [march] = openingsBetween(shop(), at("2026-03-28T23:00Z"), at("2026-03-29T20:00Z"));
    const [october] = openingsBetween(shop(), at("2026-10-24T22:00Z"), at("2026-10-25T20:00Z"));
    expect(text(march?.fromMs ?? 0)).toBe("2026-03-29T06:00:00.000Z"); // CEST again
    expect(text(october?.fromMs ?? 0)).toBe("2026-10-25T07:00:00.000Z"); // CET again
  });

  it("is an hour short or long when the change falls inside: New York, all day open", () => {
    const open = shop({ timeZone: "America/New_York", hours: everyDay(0, 1440) });
    const hoursOf = (day: string, next: string): number => {
      const [from, until] = [startOfDay(day, open.timeZone), startOfDay(next, open.timeZone)];
      return openingsBetween(open, from, until).reduce(
        (sum, span) => sum + (span.untilMs - span.fromMs) / 3_600_000,
        0,
      );
    };
    expect(hoursOf("2026-03-08", "2026-03-09")).toBe(23);
    expect(hoursOf("2026-11-01", "2026-11-02")).toBe(25);
    expect(hoursOf("2026-11-02", "2026-11-03")).toBe(24);
  });

  it("counts a time that the change skips as the instant after the gap", () => {
    const night = shop({ hours: everyDay(2 * 60 + 30, 4 * 60) });
    const [span] = openingsBetween(night, at("2026-03-28T23:00Z"), at("2026-03-29T20:00Z"));
    expect(text(span?.fromMs ?? 0)).toBe("2026-03-29T01:30:00.000Z"); // 03:30 CEST
  });

  it("leaves out closed days and weekdays without hours", () => {
    const week = shop({ hours: everyDay(480, 960).slice(0, 5), closedDays: ["2026-11-25"] });
    const spans = openingsBetween(week, at("2026-11-22T23:00Z"), at("2026-11-29T23:00Z"));
    expect(spans.map((span) => dayAt(span.fromMs, week.timeZone))).toEqual([
      "2026-11-23",
      "2026-11-24",
      "2026-11-26",
      "2026-11-27",
    ]);
  });

  it("joins hours that touch, and cuts to what was asked", () => {
    const split = shop({
      hours: [
        { weekday: 1, opensMinute: 480, closesMinute: 720 },
        { weekday: 1, opensMinute: 720, closesMinute: 1020 },
      ],
    });
    const spans = openingsBetween(split, at("2026-11-23T08:00Z"), at("2026-11-23T23:00Z"));
    expect(spans).toEqual([{ fromMs: at("2026-11-23T08:00Z"), untilMs: at("2026-11-23T16:00Z") }]);
  });

  it("takes the hours that a day has of its own, instead of its weekday's, on a closed day too", () => {
    const saturday = { day: "2026-11-28", opensMinute: 540, closesMinute: 720 };
    const early = { day: "2026-11-27", opensMinute: 480, closesMinute: 600 };
    const calendar = shop({
      closedDays: ["2026-11-28"],
      specialHours: [saturday, early],
    });
    const spans = openingsBetween(calendar, at("2026-11-26T23:00Z"), at("2026-11-28T23:00Z"));
    expect(spans).toEqual([
      { fromMs: at("2026-11-27T07:00Z"), untilMs: at("2026-11-27T09:00Z") },
      { fromMs: at("2026-11-28T08:00Z"), untilMs: at("2026-11-28T11:00Z") },
    ]);
  });

  it("opens specially by the clock on the wall on the day the clocks change", () => {
    const sunday = { day: "2026-03-29", opensMinute: 60, closesMinute: 600 };
    const [span] = openingsBetween(
      shop({ specialHours: [sunday] }),
      at("2026-03-28T23:00Z"),
      at("2026-03-29T22:00Z"),
    );
    // 01:00 in winter time to 10:00 in summer time: eight hours, not nine.
    expect(span).toEqual({ fromMs: at("2026-03-29T00:00Z"), untilMs: at("2026-03-29T08:00Z") });
  });

  it("refuses special hours that cannot be", () => {
    const wrong = { day: "2026-11-28", opensMinute: 600, closesMinute: 600 };
    expect(() => openingsBetween(shop({ specialHours: [wrong] }), 0, 1)).toThrow(RangeError);
  });

  it.each([
    [{ weekday: 0, opensMinute: 480, closesMinute: 960 }],
    [{ weekday: 1, opensMinute: -1, closesMinute: 960 }],
    [{ weekday: 1, opensMinute: 480, closesMinute: 480 }],
    [{ weekday: 1, opensMinute: 480, closesMinute: 1441 }],
  ])("refuses hours that cannot be: %o", (hours) => {
    expect(() => openingsBetween(shop({ hours: [hours] }), 0, 1)).toThrow(RangeError);
  });
});

describe("wall-clock times", () => {
  it("turn into instants and back", () => {
    const ms = instantOf("2026-11-25T14:10", "Europe/Berlin");
    expect(text(ms)).toBe("2026-11-25T13:10:00.000Z");
    expect(localTimeAt(ms, "Europe/Berlin")).toBe("2026-11-25T14:10:00".slice(0, 16));
  });

  it("refuse what is no time", () => {
    expect(() => instantOf("2026-13-01T00:00", "Europe/Berlin")).toThrow(RangeError);
  });
});
