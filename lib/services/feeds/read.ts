import { createHash } from "node:crypto";
import { may } from "@/lib/access";
import {
  type Db,
  type FeedRow,
  findFeedByHash,
  type FeedSpan,
  lastAuditAt,
  listFeedHolds,
  listFeedJobs,
  listFeedRuns,
  noteFeedRead,
  reading,
  type ShopRow,
} from "@/lib/data";
import { type CalendarEvent, icalendar } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { addDays, calendarDay, startOfDay } from "../calendar";
import { requireShop } from "../open-shop";
import { hashSecretToken } from "../secret-token";
import { benchTimes } from "../working-hours";
import {
  addressOf,
  type EventPlace,
  handsEvents,
  holdEvent,
  promiseEvent,
  runEvent,
} from "./events";

const DAYS_BACK = 60;
const DAYS_AHEAD = 180;
/** How long what was cancelled is still told of, so that every program has asked by then and takes it out. */
const CANCELLED_DAYS = 30;
/** How often a calendar should ask, min. */
const REFRESH_MINUTES = 30;
/** That an address was read is noted no more often than this, ms. */
const NOTED_EVERY_MS = 60_000;
/**
 * Longer than any transaction may wait and last (lib/data), ms. What is dated earlier than that before now has all been
 * written, so a date can stand for what is in the database.
 */
const SETTLED_MS = 60_000;

/** A secret as `newSecretToken` makes it: 32 bytes in base64url. */
const TOKEN = /^[\w-]{43}$/;

/** A calendar as a file, with what tells one version from the next. */
export type FeedFile = {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** hash of the bytes */
  readonly tag: string;
  /** no change since; null where one was made so lately that another of the same moment may still follow */
  readonly lastModified: Date | null;
};

/**
 * The calendar behind a private address. The token is the only authority here: it opens this one calendar, and what it
 * tells is what its owner's role still lets the owner see.
 *
 * @param token with or without the ending .ics
 * @param publicUrl the address that people open, without a slash at its end: links lead there
 * @throws Refusal not-found, the same for an unknown, malformed or revoked address and for that of a person kept out
 */
export async function readFeed(token: string, publicUrl: string, now: Date): Promise<FeedFile> {
  const secret = token.replace(/\.ics$/i, "");
  return reading(async (db) => {
    const feed = TOKEN.test(secret) ? await findFeedByHash(db, hashSecretToken(secret)) : null;
    if (!feed || !may(feed.person, "see-shop")) {
      throw new Refusal("not-found", "This address opens no calendar. Ask the shop for a new one.");
    }
    await noteFeedRead(db, feed.id, now, new Date(now.getTime() - NOTED_EVERY_MS));
    return writeFeed(db, feed, publicUrl, now);
  });
}

async function writeFeed(db: Db, feed: FeedRow, publicUrl: string, now: Date): Promise<FeedFile> {
  const shop = await requireShop(db);
  const today = calendarDay(now, shop.timeZone);
  // Asked for first: what is written meanwhile then counts as newer than this date.
  const audited = await lastAuditAt(db);
  const bench = await benchTimes(db, shop.timeZone, now);
  const events = await eventsOf(db, feed, today, { ...shop, ...bench, publicUrl });
  const bytes = icalendar({
    name: calendarName(feed, shop),
    organizer: { name: shop.name, uri: addressOf("/", { publicUrl }) },
    refreshMinutes: REFRESH_MINUTES,
    events,
  });
  const dates = [
    startOfDay(today, shop.timeZone), // the window moved then
    ...(audited ? [audited] : []),
    ...events.map(({ changedAt }) => changedAt),
  ];
  const newest = new Date(Math.max(...dates.map((date) => date.getTime())));
  return {
    name: "ironbath.ics",
    bytes,
    tag: createHash("sha256").update(bytes).digest("base64url"),
    lastModified: now.getTime() - newest.getTime() >= SETTLED_MS ? newest : null,
  };
}

async function eventsOf(
  db: Db,
  feed: FeedRow,
  today: Date,
  place: EventPlace,
): Promise<CalendarEvent[]> {
  const dayAt = (days: number): Date => startOfDay(addDays(today, days), place.timeZone);
  const span: FeedSpan = {
    from: dayAt(-DAYS_BACK),
    until: dayAt(DAYS_AHEAD),
    cancelledSince: dayAt(-CANCELLED_DAYS),
  };
  if (feed.kind === "PERSON") return personEvents(db, feed, span, place);
  const tank = feed.tankId === null ? {} : { tankId: feed.tankId };
  const runs = await listFeedRuns(db, span, tank);
  const holds = await listFeedHolds(db, span, tank);
  const days = { from: addDays(today, -DAYS_BACK), until: addDays(today, DAYS_AHEAD) };
  const jobs = feed.kind === "SHOP" ? await listFeedJobs(db, days) : [];
  return [
    ...runs.map((run) => runEvent(run, place)),
    ...holds.map((hold) => holdEvent(hold, place)),
    ...jobs.map((job) => promiseEvent(job, place)),
  ];
}

/** Loading and pulling. Other work on tanks is nobody's by name: it goes to those who also want what nobody has taken on. */
async function personEvents(
  db: Db,
  { personId, includesUnassigned }: FeedRow,
  span: FeedSpan,
  place: EventPlace,
): Promise<CalendarEvent[]> {
  const runs = await listFeedRuns(db, span, { personId, orNobody: includesUnassigned });
  const holds = includesUnassigned ? await listFeedHolds(db, span) : [];
  return [
    ...runs.flatMap((run) => handsEvents(run, place)),
    ...holds.map((hold) => holdEvent(hold, place)),
  ];
}

function calendarName({ kind, tank, person }: FeedRow, shop: ShopRow): string {
  if (kind === "PERSON") return `${shop.name}: ${person.name}`;
  return tank ? `${shop.name}: ${tank.name}` : shop.name;
}
