/**
 * Calendars as iCalendar text: RFC 5545, with the few properties of RFC 7986 that feeds are read by (NAME,
 * REFRESH-INTERVAL). Writes single events only: no recurrences, no alarms, no free/busy.
 *
 * Instants are written in UTC, so no VTIMEZONE is needed: a run begins at one instant, whatever the rules for summer
 * time become, and the reader's own calendar shows it in the reader's zone. A VTIMEZONE matters to what recurs at a
 * local hour, and nothing here recurs. Days are dates without an hour (VALUE=DATE), which are the same day everywhere.
 */

/** When an event is: a span of instants, or whole calendar days. */
export type EventTime =
  | { readonly kind: "span"; readonly startsAt: Date; readonly endsAt: Date }
  /** one day, as midnight UTC of its date, whatever the zone */
  | { readonly kind: "day"; readonly day: Date };

export type CalendarEvent = {
  /** the same in every version of the event, and nobody else's: "run-<uuid>@ironbath" */
  readonly uid: string;
  /** rises with every change; whole, 0 or more */
  readonly sequence: number;
  readonly changedAt: Date;
  readonly time: EventTime;
  readonly summary: string;
  /** lines are parted by \n */
  readonly description: string;
  readonly location: string;
  readonly status: "CONFIRMED" | "TENTATIVE" | "CANCELLED";
  readonly categories: readonly string[];
  /** absolute address of the page that tells more; null where there is none */
  readonly url: string | null;
  /** whether it takes the time of whoever keeps the calendar */
  readonly busy: boolean;
};

export type Calendar = {
  readonly name: string;
  /** who publishes it: RFC 5546 asks for an organizer of published events */
  readonly organizer: { readonly name: string; readonly uri: string };
  /** how often a reader should look again, min; whole, 1 or more */
  readonly refreshMinutes: number;
  readonly events: readonly CalendarEvent[];
};

const PRODUCT = "-//Ironbath//Tank calendar//EN";
/** RFC 5545 3.1: octets of a line, without its line break. */
const LINE_OCTETS = 75;
/** Everything below space but tab and line feed, and DEL: RFC 5545 3.1 bars them from text; the controls of C1 go with them. */
const BARRED = /[\u0000-\u0008\u000B-\u001F\u007F-\u009F]/gu;
const LONE_SURROGATE = /\p{Surrogate}/gu;

/**
 * A calendar as the bytes of a .ics file: UTF-8, lines folded at 75 octets, CRLF. The same data gives the same bytes:
 * DTSTAMP is when the event last changed, since an event is written anew for each reader and is no newer for it.
 *
 * @throws RangeError if a time is no time, an event ends before it starts, a sequence is not whole and 0 or more, an
 *   address holds a line break or space, or two events carry one UID
 * @example icalendar({ name: "Long tank", organizer, refreshMinutes: 30, events: [] })
 */
export function icalendar(calendar: Calendar): Uint8Array<ArrayBuffer> {
  checkWhole("refreshMinutes", calendar.refreshMinutes, 1);
  checkUids(calendar.events);
  const refresh = `PT${calendar.refreshMinutes}M`;
  const name = textValue(oneLine(calendar.name));
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    `PRODID:${PRODUCT}`,
    "CALSCALE:GREGORIAN",
    "METHOD:PUBLISH",
    `NAME:${name}`,
    // Older readers know the name and the interval by these only.
    `X-WR-CALNAME:${name}`,
    `REFRESH-INTERVAL;VALUE=DURATION:${refresh}`,
    `X-PUBLISHED-TTL:${refresh}`,
    ...calendar.events.flatMap((event) => eventLines(event, calendar.organizer)),
    "END:VCALENDAR",
  ];
  return new TextEncoder().encode(lines.map((line) => `${foldLine(line)}\r\n`).join(""));
}

function eventLines(event: CalendarEvent, organizer: Calendar["organizer"]): string[] {
  checkWhole(`sequence of ${event.uid}`, event.sequence, 0);
  const changed = utc(event.changedAt, Math.floor);
  return [
    "BEGIN:VEVENT",
    `UID:${textValue(event.uid)}`,
    `DTSTAMP:${changed}`,
    `LAST-MODIFIED:${changed}`,
    `SEQUENCE:${event.sequence}`,
    ...timeLines(event),
    `SUMMARY:${textValue(oneLine(event.summary))}`,
    ...optional("DESCRIPTION", event.description),
    ...optional("LOCATION", oneLine(event.location)),
    `STATUS:${event.status}`,
    `TRANSP:${event.busy ? "OPAQUE" : "TRANSPARENT"}`,
    ...(event.categories.length > 0
      ? [`CATEGORIES:${event.categories.map(textValue).join(",")}`]
      : []),
    `ORGANIZER;CN=${parameterValue(organizer.name)}:${uriValue(organizer.uri)}`,
    ...(event.url === null ? [] : [`URL:${uriValue(event.url)}`]),
    "END:VEVENT",
  ];
}

/** DTEND is the first moment, or day, that no longer belongs to the event (RFC 5545 3.6.1). */
function timeLines({ uid, time }: CalendarEvent): string[] {
  if (time.kind === "day") {
    return [`DTSTART;VALUE=DATE:${date(time.day, 0)}`, `DTEND;VALUE=DATE:${date(time.day, 1)}`];
  }
  const { startsAt, endsAt } = time;
  if (!(endsAt > startsAt)) {
    throw new RangeError(
      `${uid} must end after it starts, got ${String(startsAt)} to ${String(endsAt)}`,
    );
  }
  // Rounded outwards to whole seconds, so that what lasts a moment does not end when it starts.
  return [`DTSTART:${utc(startsAt, Math.floor)}`, `DTEND:${utc(endsAt, Math.ceil)}`];
}

function optional(property: string, text: string): string[] {
  const value = textValue(text);
  return value === "" ? [] : [`${property}:${value}`];
}

const oneLine = (text: string): string => text.replace(/[\r\n]+/g, " ").trim();

/**
 * Text as a property value (RFC 5545 3.3.11): backslash, semicolon and comma after a backslash, a line end as \n;
 * control characters, which text must not hold, are left out.
 *
 * @example textValue("hinge; 2 off") // "hinge\\; 2 off"
 */
export function textValue(text: string): string {
  return plain(text)
    .replace(/[\\;,]/g, (special) => `\\${special}`)
    .replaceAll("\n", "\\n");
}

/**
 * A quoted parameter value, with line ends, quotes and carets as RFC 6868 writes them. A backslash means itself there,
 * but some readers take it for an escape: it becomes a slash.
 */
function parameterValue(text: string): string {
  const written = plain(text)
    .replaceAll("^", "^^")
    .replaceAll('"', "^'")
    .replaceAll("\\", "/")
    .replaceAll("\n", "^n");
  return `"${written}"`;
}

/** Without what no line may hold: every line end as \n, no other control but tab, no half of a character. */
const plain = (text: string): string =>
  text.replace(/\r\n?/g, "\n").replace(BARRED, "").replace(LONE_SURROGATE, "\uFFFD");

function uriValue(uri: string): string {
  if (!/^[a-z][a-z0-9+.-]*:[\u0021-\u007E]+$/i.test(uri)) {
    throw new RangeError(`expected an absolute address in ASCII without spaces, got ${uri}`);
  }
  return uri;
}

/**
 * A content line folded at 75 octets (RFC 5545 3.1): the line goes on after CRLF and one space. A character of several
 * octets is never cut, so that each line is readable UTF-8 by itself.
 *
 * @param line without its line break
 */
export function foldLine(line: string): string {
  const pieces: string[] = [];
  let from = 0;
  let octets = 0;
  for (let at = 0; at < line.length;) {
    const point = line.codePointAt(at) ?? 0;
    const size = octetsOf(point);
    if (octets + size > LINE_OCTETS) {
      pieces.push(line.slice(from, at));
      from = at;
      octets = 1; // the space that the next line begins with
    }
    octets += size;
    at += point > 0xffff ? 2 : 1;
  }
  return [...pieces, line.slice(from)].join("\r\n ");
}

/** Octets of one character in UTF-8. */
function octetsOf(point: number): number {
  if (point < 0x80) return 1;
  if (point < 0x800) return 2;
  return point < 0x1_0000 ? 3 : 4;
}

/** DATE-TIME in UTC, form 2 of RFC 5545 3.3.5. @example utc(new Date("2030-01-07T08:00:00Z"), Math.floor) // "20300107T080000Z" */
function utc(instant: Date, round: (seconds: number) => number): string {
  const seconds = round(checkInstant(instant) / 1000);
  return `${new Date(seconds * 1000).toISOString().slice(0, 19).replace(/[-:]/g, "")}Z`;
}

/** DATE, RFC 5545 3.3.4, `days` after a day. */
function date(day: Date, days: number): string {
  const shifted = new Date(checkInstant(day) + days * 86_400_000);
  return shifted.toISOString().slice(0, 10).replaceAll("-", "");
}

/** @returns ms since 1970 */
function checkInstant(instant: Date): number {
  const year = instant.getUTCFullYear();
  // iCalendar writes years with four digits; the last day of 9999 has no day after it.
  if (!(year >= 1 && year < 9999)) {
    throw new RangeError(`expected a time from the year 1 to 9998, got ${String(instant)}`);
  }
  return instant.getTime();
}

function checkWhole(name: string, value: number, least: number): void {
  if (!(Number.isSafeInteger(value) && value >= least)) {
    throw new RangeError(`${name} must be whole and at least ${least}, got ${value}`);
  }
}

function checkUids(events: readonly CalendarEvent[]): void {
  const seen = new Set<string>();
  for (const { uid } of events) {
    if (seen.has(uid)) throw new RangeError(`two events carry the UID ${uid}`);
    seen.add(uid);
  }
}
