import { describe, expect, it } from "vitest";
import { addressOf, dayAfter, earlier, isDay, later, spanFrom } from "./span";

describe("the board's address", () => {
  it("is this week from today when it says nothing, or nonsense", () => {
    const today = { view: "week", from: "2026-03-27" };
    expect(spanFrom({}, "2026-03-27")).toEqual(today);
    expect(spanFrom({ view: "year", from: "2026-02-30" }, "2026-03-27")).toEqual(today);
    expect(spanFrom({ from: ["2026-01-01", "2026-01-02"] }, "2026-03-27")).toEqual(today);
  });

  it("reads what it wrote", () => {
    const span = { view: "month", from: "2026-03-02" } as const;
    const url = new URL(addressOf(span, { part: "p1" }), "http://shop");
    expect(spanFrom(Object.fromEntries(url.searchParams), "2020-01-01")).toEqual(span);
    expect(url.searchParams.get("part")).toBe("p1");
  });

  it("goes back where it came from", () => {
    for (const view of ["day", "week", "month"] as const) {
      const span = { view, from: "2026-03-29" };
      expect(later(earlier(span))).toEqual(span);
    }
  });

  it("counts calendar days over leap days and changes of the clocks", () => {
    expect(dayAfter("2028-02-28", 1)).toBe("2028-02-29");
    expect(dayAfter("2026-03-28", 2)).toBe("2026-03-30");
    expect(isDay("2027-02-29")).toBe(false);
  });
});
