import { isoWeekOf, isoWeekText } from "@/lib/scheduling";
import { describe, expect, it } from "vitest";

// ISO 8601 week dates, as ISO 8601-1:2019 and its common examples have them (from memory): week 1 holds the year's
// first Thursday, so days around New Year may belong to a week of the other year.
describe("week dates: ISO 8601", () => {
  it.each([
    ["2005-01-01", "2004-W53", 6],
    ["2005-01-02", "2004-W53", 7],
    ["2005-12-31", "2005-W52", 6],
    ["2007-01-01", "2007-W01", 1],
    ["2008-12-28", "2008-W52", 7],
    ["2008-12-29", "2009-W01", 1],
    ["2009-12-31", "2009-W53", 4],
    ["2010-01-03", "2009-W53", 7],
    ["2010-01-04", "2010-W01", 1],
  ])("%s is %s-%i", (day, week, weekday) => {
    const found = isoWeekOf(day);
    expect(isoWeekText(found)).toBe(week);
    expect(found.weekday).toBe(weekday);
  });
});
