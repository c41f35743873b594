import fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { type Calendar, type CalendarEvent, foldLine, icalendar, textValue } from "./icalendar";

const EVENT: CalendarEvent = {
  uid: "run-1@ironbath",
  sequence: 0,
  changedAt: new Date("2030-01-07T08:00:00Z"),
  time: {
    kind: "span",
    startsAt: new Date("2030-01-07T09:00:00Z"),
    endsAt: new Date("2030-01-07T15:30:00Z"),
  },
  summary: "Run 12 in Long tank: hinge, gate",
  description: "",
  location: "",
  status: "CONFIRMED",
  categories: [],
  url: null,
  busy: false,
};

const calendarOf = (
  events: readonly CalendarEvent[],
  change: Partial<Calendar> = {},
): Calendar => ({
  name: "Long tank",
  organizer: { name: "Trough & Anode", uri: "https://shop.example.org" },
  refreshMinutes: 30,
  events,
  ...change,
});

const written = (calendar: Calendar): string =>
  new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(icalendar(calendar));
const writtenEvent = (change: Partial<CalendarEvent>): string =>
  written(calendarOf([{ ...EVENT, ...change }]));

/** What another program reads back: ical.js shares nothing with the writer. */
const readBack = (text: string): InstanceType<typeof ICAL.Component> =>
  new ICAL.Component(ICAL.parse(text) as unknown[]);
const onlyEvent = (text: string): InstanceType<typeof ICAL.Event> => {
  const found = readBack(text).getFirstSubcomponent("vevent");
  if (!found) throw new Error("no event was read back");
  return new ICAL.Event(found);
};

/** Text of all kinds: what JSON, iCalendar and UTF-8 stumble over, and anything else. */
const anyText = fc.oneof(
  fc.string({ unit: "binary", maxLength: 300 }),
  fc.string({
    unit: fc.constantFrom(
      "a",
      " ",
      ",",
      ";",
      "\\",
      ":",
      '"',
      "^",
      "\n",
      "\r\n",
      "é",
      "Ω",
      "漢",
      "🛁",
      "\\n",
    ),
    maxLength: 300,
  }),
);

/** What text keeps: its line ends as \n, and no control but tab. */
const kept = (text: string): string =>
  text.replace(/\r\n?/g, "\n").replace(/[\u0000-\u0008\u000B-\u001F\u007F-\u009F]/g, "");

describe("icalendar", () => {
  it("has what every reader asks for, in CRLF", () => {
    const text = written(calendarOf([]));
    expect(text).toBe(
      [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Ironbath//Tank calendar//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        "NAME:Long tank",
        "X-WR-CALNAME:Long tank",
        "REFRESH-INTERVAL;VALUE=DURATION:PT30M",
        "X-PUBLISHED-TTL:PT30M",
        "END:VCALENDAR",
        "",
      ].join("\r\n"),
    );
    const read = readBack(text);
    expect(read.getFirstPropertyValue("method")).toBe("PUBLISH");
    expect(String(read.getFirstPropertyValue("refresh-interval"))).toBe("PT30M");
  });

  it("gives an event's every property to another parser", () => {
    const event: CalendarEvent = {
      ...EVENT,
      sequence: 3,
      description: "Load at 09:00\nPull by 15:30",
      location: "Long tank, back room",
      status: "CANCELLED",
      categories: ["Run", "Hot, and wet"],
      url: "https://shop.example.org/runs/1",
      busy: true,
    };
    const read = onlyEvent(written(calendarOf([event])));
    expect(read.uid).toBe("run-1@ironbath");
    expect(read.sequence).toBe(3);
    expect(read.summary).toBe(event.summary);
    expect(read.description).toBe(event.description);
    expect(read.location).toBe(event.location);
    expect(read.startDate.toJSDate()).toEqual(new Date("2030-01-07T09:00:00Z"));
    expect(read.endDate.toJSDate()).toEqual(new Date("2030-01-07T15:30:00Z"));
    const property = (name: string) => read.component.getFirstPropertyValue(name);
    expect(property("status")).toBe("CANCELLED");
    expect(property("transp")).toBe("OPAQUE");
    expect(property("url")).toBe("https://shop.example.org/runs/1");
    expect(String(property("dtstamp"))).toBe("2030-01-07T08:00:00Z");
    expect(String(property("last-modified"))).toBe("2030-01-07T08:00:00Z");
    expect(read.component.getFirstProperty("categories")?.getValues()).toEqual(event.categories);
    const organizer = read.component.getFirstProperty("organizer");
    expect(organizer?.getFirstValue()).toBe("https://shop.example.org");
    expect(organizer?.getParameter("cn")).toBe("Trough & Anode");
    expect(read.component.getAllSubcomponents("valarm")).toEqual([]);
  });

  it("writes a day as a date that ends with the next", () => {
    const text = writtenEvent({ time: { kind: "day", day: new Date("2030-12-31T00:00:00Z") } });
    expect(text).toContain("\r\nDTSTART;VALUE=DATE:20301231\r\nDTEND;VALUE=DATE:20310101\r\n");
    const read = onlyEvent(text);
    expect(read.startDate.isDate).toBe(true);
    expect(read.duration.toString()).toBe("P1D");
  });

  it("lets what lasts less than a second end after it starts", () => {
    const [startsAt, endsAt] = [
      new Date("2030-01-07T09:00:00.250Z"),
      new Date("2030-01-07T09:00:00.251Z"),
    ];
    const text = writtenEvent({ time: { kind: "span", startsAt, endsAt } });
    expect(text).toContain("\r\nDTSTART:20300107T090000Z\r\nDTEND:20300107T090001Z\r\n");
  });

  it("gives the same bytes for the same data", () => {
    expect(icalendar(calendarOf([EVENT]))).toEqual(icalendar(calendarOf([EVENT])));
  });

  it("refuses what would not be read as it was meant", () => {
    const at = new Date("2030-01-07T09:00:00Z");
    const never = new Date(Number.NaN);
    const refused: readonly [Partial<CalendarEvent>, string][] = [
      [{ time: { kind: "span", startsAt: at, endsAt: at } }, "must end after it starts"],
      [{ time: { kind: "span", startsAt: never, endsAt: at } }, "must end after it starts"],
      [{ time: { kind: "day", day: never } }, "expected a time"],
      [{ time: { kind: "day", day: new Date("+010000-01-01T00:00:00Z") } }, "expected a time"],
      [{ changedAt: never }, "expected a time"],
      [{ sequence: -1 }, "must be whole and at least 0"],
      [{ sequence: 1.5 }, "must be whole and at least 0"],
      [{ url: "https://shop.example.org/a\r\nSTATUS:CANCELLED" }, "expected an absolute address"],
      [{ url: "/runs/1" }, "expected an absolute address"],
    ];
    for (const [change, why] of refused) expect(() => writtenEvent(change)).toThrow(why);
    expect(() => written(calendarOf([EVENT, EVENT]))).toThrow("two events carry the UID");
    expect(() => written(calendarOf([], { refreshMinutes: 0 }))).toThrow("refreshMinutes");
  });
});

describe("text of any kind", () => {
  it("comes back from another parser as it was, in lines of at most 75 octets that are each UTF-8", () => {
    fc.assert(
      fc.property(anyText, anyText, anyText, (description, category, name) => {
        const event = {
          ...EVENT,
          description,
          summary: description,
          categories: ["Run", category],
        };
        const bytes = icalendar(
          calendarOf([event], { name, organizer: { name, uri: "mailto:desk@example.org" } }),
        );
        const lines = Buffer.from(bytes).toString("latin1").split("\r\n");
        expect(lines.pop()).toBe("");
        for (const line of lines) {
          expect(line.length).toBeLessThanOrEqual(75);
          expect(line).not.toMatch(/[\u0000-\u0008\u000A-\u001F\u007F]/);
          new TextDecoder("utf-8", { fatal: true }).decode(Buffer.from(line, "latin1"));
        }
        const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
        const read = onlyEvent(text);
        expect(read.component.getFirstPropertyValue("description") ?? "").toBe(kept(description));
        expect(read.summary).toBe(kept(description.replace(/[\r\n]+/g, " ").trim()));
        expect(read.component.getFirstProperty("categories")?.getValues()).toEqual([
          "Run",
          kept(category),
        ]);
        expect(read.component.getFirstProperty("organizer")?.getParameter("cn")).toBe(
          kept(name).replaceAll("\\", "/"),
        );
        expect(read.component.getAllProperties().length).toBe(kept(description) === "" ? 11 : 12);
      }),
      { numRuns: 300 },
    );
  });

  it("is unfolded by taking out each CRLF and the space after it", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 400 }), (line) => {
        fc.pre(!line.includes("\r\n "));
        expect(foldLine(line).replaceAll("\r\n ", "")).toBe(line);
      }),
    );
  });

  it("replaces halves of characters, which UTF-8 cannot hold", () => {
    expect(textValue("a\uD83Db")).toBe("a\uFFFDb");
    expect(textValue("🛁")).toBe("🛁");
  });
});
