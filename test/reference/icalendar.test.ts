/**
 * Calendars against RFC 5545: the examples of its text for what is written here (folding, TEXT, DATE, DATE-TIME in UTC,
 * all-day events). Quoted from the RFC; recurrences, alarms and time zones are not written, so not compared.
 */
import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { type CalendarEvent, icalendar } from "@/lib/documents";

const EVENT: CalendarEvent = {
  uid: "1@example.org",
  sequence: 0,
  changedAt: new Date("1998-01-19T07:00:00Z"),
  time: {
    kind: "span",
    startsAt: new Date("1998-01-18T23:00:00Z"),
    endsAt: new Date("1998-01-19T07:00:00Z"),
  },
  summary: "x",
  description: "",
  location: "",
  status: "CONFIRMED",
  categories: [],
  url: null,
  busy: true,
};

const text = (event: Partial<CalendarEvent>): string =>
  new TextDecoder().decode(
    icalendar({
      name: "x",
      organizer: { name: "x", uri: "mailto:x@example.org" },
      refreshMinutes: 60,
      events: [{ ...EVENT, ...event }],
    }),
  );
/** The lines as RFC 5545 3.1 reads them: a CRLF with one space or tab after it is taken out. */
const lines = (event: Partial<CalendarEvent>): string[] =>
  text(event)
    .replace(/\r\n[ \t]/g, "")
    .split("\r\n");

describe("RFC 5545", () => {
  it("3.1: a folded line reads as the one line that it was", () => {
    const folded =
      "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n";
    const whole = "DESCRIPTION:This is a long description that exists on a long line.";
    const wrap = (line: string): string =>
      `BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n${line}END:VEVENT\r\nEND:VCALENDAR\r\n`;
    const described = (source: string): unknown =>
      new ICAL.Component(ICAL.parse(source) as unknown[])
        .getFirstSubcomponent("vevent")
        ?.getFirstPropertyValue("description");
    const description = "This is a long description that exists on a long line.";
    expect(described(wrap(folded))).toBe(description);
    expect(lines({ description })).toContain(whole);
    const long = `${description} `.repeat(20).trim();
    expect(described(text({ description: long }))).toBe(long);
    expect(
      text({ description: long })
        .split("\r\n")
        .every((line) => line.length <= 75),
    ).toBe(true);
  });

  it("3.3.11: line ends, commas, semicolons and backslashes of text", () => {
    expect(
      lines({
        description: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
      }),
    ).toContain(
      String.raw`DESCRIPTION:Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`,
    );
    expect(lines({ description: String.raw`a,b;c\d:"e"` })).toContain(
      String.raw`DESCRIPTION:a\,b\;c\\d:"e"`,
    );
  });

  it("3.8.1.2: categories are parted by commas", () => {
    expect(lines({ categories: ["APPOINTMENT", "EDUCATION"] })).toContain(
      "CATEGORIES:APPOINTMENT,EDUCATION",
    );
  });

  it("3.3.5: an instant in UTC ends in Z", () => {
    expect(lines({})).toEqual(
      expect.arrayContaining(["DTSTART:19980118T230000Z", "DTEND:19980119T070000Z"]),
    );
  });

  it("3.6.1 and 3.8.2.2: a day has no hour, and its end is the day after", () => {
    const day = new Date("2007-06-28T00:00:00Z");
    expect(lines({ time: { kind: "day", day } })).toEqual(
      expect.arrayContaining(["DTSTART;VALUE=DATE:20070628", "DTEND;VALUE=DATE:20070629"]),
    );
  });

  it("3.6.1: one UID and one DTSTAMP an event, 3.6: VERSION and PRODID once", () => {
    const all = lines({});
    for (const name of ["UID", "DTSTAMP", "DTSTART", "SUMMARY", "VERSION", "PRODID", "METHOD"]) {
      expect(all.filter((line) => line.startsWith(`${name}:`))).toHaveLength(1);
    }
  });
});
