/** Calendars by private address: what another parser reads of them, how they follow changes, and who gets none. */
import { createHash, randomUUID } from "node:crypto";
import ICAL from "ical.js";
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { GET } from "@/app/(feed)/calendar/[token]/route";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  bookRun,
  cancelRun,
  changeJob,
  disablePerson,
  enablePerson,
  type FeedChoice,
  feedOverview,
  loadRun,
  makeFeed,
  moveRun,
  pullRun,
  readFeed,
  revokeFeed,
} from "@/lib/services";
import { createActor, createShopWithRates } from "../support/factories-money";
import {
  ALL_CHECKS,
  book,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  hoursAfter,
  MONDAY,
} from "../support/factories-tanks";
import { outcomes } from "../support/people";

const caller = vi.hoisted(() => ({ address: "192.0.2.1" }));
// The one thing that a request brings along besides itself.
vi.mock("next/headers", () => ({
  headers: () => Promise.resolve(new Headers({ "x-forwarded-for": caller.address })),
  cookies: () => Promise.reject(new Error("a calendar has no session")),
}));

const PUBLIC = "https://shop.example.org";
const DAY_HOURS = 24;
const SHOP: FeedChoice = { kind: "SHOP" };

let owner: Actor;
let bench: Actor;

beforeAll(async () => {
  process.env["NEXTAUTH_URL"] = PUBLIC;
  process.env["NEXTAUTH_SECRET"] = "0".repeat(32);
  await createShopWithRates();
  await createOpeningHours();
  owner = await createActor();
  bench = await createActor("BENCH");
});

type ReadEvent = InstanceType<typeof ICAL.Event>;

/** The calendar as ical.js reads it, by UID. */
function parsed(text: string): ReadonlyMap<string, ReadEvent> {
  const read = new ICAL.Component(ICAL.parse(text) as unknown[]);
  const events = read.getAllSubcomponents("vevent").map((one) => new ICAL.Event(one));
  return new Map(events.map((event) => [event.uid, event]));
}

const textOf = async (token: string, now = MONDAY): Promise<string> =>
  new TextDecoder("utf-8", { fatal: true }).decode((await readFeed(token, PUBLIC, now)).bytes);
const eventsOf = async (token: string, now = MONDAY) => parsed(await textOf(token, now));

async function eventOf(token: string, uid: string, now = MONDAY): Promise<ReadEvent> {
  const event = (await eventsOf(token, now)).get(uid);
  if (!event) throw new Error(`${uid} is not in the calendar`);
  return event;
}

const runUid = (runId: string): string => `run-${runId}@ironbath`;
const statusOf = (event: ReadEvent): unknown => event.component.getFirstPropertyValue("status");
const times = (event: ReadEvent): [Date, Date] => [
  event.startDate.toJSDate(),
  event.endDate.toJSDate(),
];
const runRow = (id: string) => database().run.findUniqueOrThrow({ where: { id } });

async function bookedRun(startsAt = MONDAY, place = "") {
  const tank = await createReadyTank();
  if (place) await database().tank.update({ where: { id: tank.id }, data: { place } });
  const part = await createPlannedSkillet(bench, tank.id);
  const { runId, number } = await book(bench, part.id, tank.id, startsAt);
  return { tank, part, runId, number };
}

const tankFeed = (tankId: string): Promise<string> =>
  makeFeed(bench, { kind: "TANK", tankId }, "", MONDAY);

describe("a tank's calendar", () => {
  it("tells each run with its times, parts and page", async () => {
    const { tank, part, runId, number } = await bookedRun(MONDAY, "back room");
    const token = await tankFeed(tank.id);
    const run = await runRow(runId);
    const job = await database().job.findUniqueOrThrow({ where: { id: part.jobId } });

    const event = await eventOf(token, runUid(runId));

    expect(times(event)).toEqual([
      run.startsAt,
      new Date(Math.ceil(Number(run.endsAt) / 1000) * 1000),
    ]);
    expect(event.summary).toBe(`Run ${number} in ${tank.name}: skillet`);
    expect(event.location).toBe(`${tank.name}, back room`);
    expect(event.sequence).toBe(run.sequence);
    expect(statusOf(event)).toBe("CONFIRMED");
    expect(event.description.split("\n")).toEqual([
      "Load at Mon, 7 Jan, 09:00",
      expect.stringMatching(/^Pull by \w{3}, \d+ Jan, \d\d:\d\d$/),
      `Expected current ${run.expectedCurrentA.toFixed(1)} A (${run.currentLowA.toFixed(1)} A to ${run.currentHighA.toFixed(1)} A)`,
      `Job ${job.number}, part ${part.mark}: skillet`,
      `${PUBLIC}/runs/${runId}`,
    ]);
    expect(event.component.getFirstPropertyValue("url")).toBe(`${PUBLIC}/runs/${runId}`);
    const changed = String(event.component.getFirstPropertyValue("last-modified"));
    expect(new Date(changed).getTime()).toBe(Math.floor(run.changedAt.getTime() / 1000) * 1000);
  });

  it("knows that tank alone", async () => {
    const [mine, other] = [await bookedRun(), await bookedRun()];
    const events = await eventsOf(await tankFeed(mine.tank.id));
    expect([...events.keys()]).toEqual([runUid(mine.runId)]);
    expect(events.has(runUid(other.runId))).toBe(false);
  });

  it("keeps the hour in Berlin on both sides of the change to summer time", async () => {
    const friday = new Date("2030-03-29T07:00:00Z"); // 08:00, winter time
    const monday = new Date("2030-04-02T06:00:00Z"); // 08:00, summer time
    const before = await bookedRun(friday);
    const after = await bookedRun(monday);
    const berlin = (at: Date): string =>
      new Intl.DateTimeFormat("en-GB", { timeZone: "Europe/Berlin", timeStyle: "short" }).format(
        at,
      );
    for (const { tank, runId } of [before, after]) {
      const event = await eventOf(await tankFeed(tank.id), runUid(runId));
      const run = await runRow(runId);
      expect(times(event)).toEqual([run.startsAt, run.endsAt]);
      expect(berlin(event.startDate.toJSDate())).toBe("08:00");
      expect(event.startDate.zone.tzid).toBe("UTC");
      expect(event.description).toMatch(/^Load at .*, 08:00\nPull by .*, /);
    }
    // The load of Friday comes out after the change: the end is told in summer time.
    const run = await runRow(before.runId);
    const event = await eventOf(await tankFeed(before.tank.id), runUid(before.runId));
    expect(run.endsAt.getTime()).toBeGreaterThan(Date.parse("2030-03-31T01:00:00Z"));
    expect(event.description).toContain(`Pull by Mon, 1 Apr, ${berlin(run.endsAt)}`);
  });

  it("raises SEQUENCE with each change, and stays the same where nothing changed", async () => {
    const { tank, runId } = await bookedRun(hoursAfter(MONDAY, DAY_HOURS));
    const token = await tankFeed(tank.id);
    const seen: number[] = [];
    const look = async (): Promise<ReadEvent> => {
      const event = await eventOf(token, runUid(runId));
      seen.push(event.sequence);
      return event;
    };
    await look();
    expect(await textOf(token)).toBe(await textOf(token, hoursAfter(MONDAY, 1)));

    await moveRun(bench, { runId, startsAt: MONDAY }, MONDAY);
    expect((await look()).startDate.toJSDate()).toEqual(MONDAY);
    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    expect((await look()).description).toMatch(/^In the bath now\.\n/);
    await pullRun(bench, runId, hoursAfter(MONDAY, 3));
    const pulled = await look();
    expect(pulled.description).toMatch(/^Pulled, to finish\.\n/);
    expect(pulled.endDate.toJSDate()).toEqual(hoursAfter(MONDAY, 3));

    expect(seen).toEqual([...new Set(seen)].sort((a, b) => a - b));
    expect(seen).toHaveLength(4);
  });

  it("hands a run that is moved to another tank on to that tank's calendar, as newer", async () => {
    const { tank, runId } = await bookedRun(hoursAfter(MONDAY, DAY_HOURS));
    const other = await createReadyTank();
    const before = await eventOf(await tankFeed(tank.id), runUid(runId));
    const startsAt = hoursAfter(MONDAY, 2 * DAY_HOURS);
    await moveRun(bench, { runId, startsAt, tankId: other.id }, MONDAY);

    expect((await eventsOf(await tankFeed(tank.id))).size).toBe(0);
    const after = await eventOf(await tankFeed(other.id), runUid(runId));
    expect(after.summary).toContain(other.name);
    expect(after.startDate.toJSDate()).toEqual(startsAt);
    expect(after.sequence).toBeGreaterThan(before.sequence);
  });

  it("goes on telling of a cancelled run, as such and as newer, for thirty days", async () => {
    const { tank, runId } = await bookedRun(hoursAfter(MONDAY, DAY_HOURS));
    const token = await tankFeed(tank.id);
    const before = await eventOf(token, runUid(runId));
    await cancelRun(bench, runId, MONDAY);

    const after = await eventOf(token, runUid(runId));
    expect(statusOf(after)).toBe("CANCELLED");
    expect(after.sequence).toBeGreaterThan(before.sequence);
    expect(after.summary).toBe(`Cancelled: ${before.summary}`);
    expect(times(after)).toEqual(times(before));
    const days = (count: number): Date => hoursAfter(MONDAY, DAY_HOURS * count);
    expect((await eventsOf(token, days(30))).has(runUid(runId))).toBe(true);
    expect((await eventsOf(token, days(31))).has(runUid(runId))).toBe(false);
  });

  it("looks sixty days back and 180 ahead", async () => {
    const { tank, runId } = await bookedRun();
    const token = await tankFeed(tank.id);
    const seenAt = async (days: number): Promise<boolean> =>
      (await eventsOf(token, hoursAfter(MONDAY, DAY_HOURS * days))).has(runUid(runId));
    expect(await seenAt(59)).toBe(true);
    expect(await seenAt(63)).toBe(false);
    expect(await seenAt(-179)).toBe(true);
    expect(await seenAt(-181)).toBe(false);
  });

  it("tells of other work on the tank, and of its being cancelled", async () => {
    const tank = await createReadyTank();
    const hold = await database().tankHold.create({
      data: {
        tankId: tank.id,
        kind: "BATH_CHANGE",
        startsAt: hoursAfter(MONDAY, 1),
        endsAt: hoursAfter(MONDAY, 2),
        note: "new soda is on the shelf",
        createdById: bench.personId,
        idempotencyKey: randomUUID(),
      },
    });
    const token = await tankFeed(tank.id);
    const uid = `hold-${hold.id}@ironbath`;
    const event = await eventOf(token, uid);
    expect(event.summary).toBe(`Change the bath: ${tank.name}`);
    expect(event.description).toContain("new soda is on the shelf");
    expect(times(event)).toEqual([hold.startsAt, hold.endsAt]);

    const cancelled = await database().tankHold.update({
      where: { id: hold.id },
      data: { state: "CANCELLED" },
    });
    // The database's clock dates the change; this test's shop is years ahead of it.
    await database().tankHold.update({ where: { id: hold.id }, data: { changedAt: MONDAY } });
    const after = await eventOf(token, uid);
    expect(statusOf(after)).toBe("CANCELLED");
    expect(after.sequence).toBe(cancelled.sequence);
    expect(after.sequence).toBeGreaterThan(event.sequence);
    const later = hoursAfter(MONDAY, 31 * DAY_HOURS);
    expect((await eventsOf(token, later)).has(uid)).toBe(false);
  });
});

describe("the shop's calendar", () => {
  it("has every tank, and the promised days of open jobs as whole days", async () => {
    const [one, two] = [await bookedRun(), await bookedRun()];
    const promisedFor = new Date("2030-01-09T00:00:00Z");
    await changeJob(owner, one.part.jobId, { promisedFor, notes: "ring 0171 555" }, MONDAY);
    const token = await makeFeed(bench, SHOP, "", MONDAY);

    const events = await eventsOf(token);
    expect(events.has(runUid(one.runId))).toBe(true);
    expect(events.has(runUid(two.runId))).toBe(true);
    const uid = `job-${one.part.jobId}@ironbath`;
    const promise = events.get(uid);
    expect(promise?.startDate.isDate).toBe(true);
    expect(promise?.startDate.toString()).toBe("2030-01-09");
    expect(promise?.endDate.toString()).toBe("2030-01-10");
    expect(events.has(`job-${two.part.jobId}@ironbath`)).toBe(false);

    const moved = new Date("2030-01-11T00:00:00Z");
    await changeJob(owner, one.part.jobId, { promisedFor: moved, notes: "" }, MONDAY);
    const after = await eventOf(token, uid);
    expect(after.startDate.toString()).toBe("2030-01-11");
    expect(after.sequence).toBeGreaterThan(promise?.sequence ?? 0);
  });

  it("tells nothing of customers, money, notes or people", async () => {
    const { part, runId } = await bookedRun();
    const secrets = {
      name: "Ottilie Marsh",
      email: "ottilie@example.org",
      phone: "0171 555 0199",
      address: "3 Weir Bank",
      notes: "key under the pot",
    };
    const { customerId } = await database().job.update({
      where: { id: part.jobId },
      data: { notes: secrets.notes, promisedFor: new Date("2030-01-10T00:00:00Z") },
    });
    await database().customer.update({ where: { id: customerId }, data: secrets });
    await database().run.update({ where: { id: runId }, data: { notes: secrets.notes } });
    const unfolded = (await textOf(await makeFeed(owner, SHOP, "", MONDAY))).replaceAll(
      "\r\n ",
      "",
    );
    expect(unfolded).toContain(runId);
    expect(unfolded).toContain(part.jobId);
    for (const secret of [...Object.values(secrets), "EUR", "€", bench.name]) {
      expect(unfolded).not.toContain(secret);
    }
  });
});

describe("a person's calendar", () => {
  it("has the loading and pulling of runs that are the person's, and of free ones where asked", async () => {
    const someone = await createActor("BENCH");
    const [mine, free, others] = [await bookedRun(), await bookedRun(), await bookedRun()];
    const assign = (runId: string, assignedToId: string) =>
      database().run.update({ where: { id: runId }, data: { assignedToId } });
    await assign(mine.runId, someone.personId);
    await assign(others.runId, owner.personId);
    const choice = (includesUnassigned: boolean): FeedChoice => ({
      kind: "PERSON",
      includesUnassigned,
    });
    const strict = await eventsOf(await makeFeed(someone, choice(false), "", MONDAY));
    const wide = await eventsOf(await makeFeed(someone, choice(true), "", MONDAY));

    expect([...strict.keys()].sort()).toEqual(
      [`load-${mine.runId}@ironbath`, `pull-${mine.runId}@ironbath`].sort(),
    );
    expect(wide.has(`load-${free.runId}@ironbath`)).toBe(true);
    expect(wide.has(`pull-${mine.runId}@ironbath`)).toBe(true);
    expect(wide.has(`load-${others.runId}@ironbath`)).toBe(false);

    const run = await runRow(mine.runId);
    const load = strict.get(`load-${mine.runId}@ironbath`);
    const pull = strict.get(`pull-${mine.runId}@ironbath`);
    expect(load?.summary).toBe(`Load run ${mine.number} into ${mine.tank.name}: skillet`);
    expect(pull?.summary).toBe(`Pull run ${mine.number} from ${mine.tank.name}: skillet`);
    // The rate card's 15 and 10 minutes.
    expect(load && times(load)).toEqual([run.startsAt, hoursAfter(run.startsAt, 0.25)]);
    expect(pull?.endDate.toJSDate()).toEqual(run.endsAt);
    expect(pull?.duration.toString()).toBe("PT10M");
  });
});

describe("the private address", () => {
  it("is kept as its hash, and shown in no list", async () => {
    const token = await makeFeed(bench, SHOP, "my phone", MONDAY);
    const tokenHash = createHash("sha256").update(token).digest("hex");
    const row = await database().calendarFeed.findUniqueOrThrow({ where: { tokenHash } });
    expect(JSON.stringify(row)).not.toContain(token);
    expect(JSON.stringify(await feedOverview(bench))).not.toContain(tokenHash);
    const line = await database().auditEntry.findFirstOrThrow({ where: { subjectId: row.id } });
    expect(JSON.stringify(line)).not.toContain(token);
  });

  it("opens with and without .ics, and notes at most once a minute that it was read", async () => {
    const someone = await createActor("BENCH");
    const token = await makeFeed(someone, SHOP, "", MONDAY);
    expect(await textOf(`${token}.ics`)).toBe(await textOf(token));
    const lastRead = async () => (await feedOverview(someone)).own[0]?.lastReadAt;
    expect(await lastRead()).toEqual(MONDAY);
    await textOf(token, hoursAfter(MONDAY, 0.005));
    expect(await lastRead()).toEqual(MONDAY);
    await textOf(token, hoursAfter(MONDAY, 1));
    expect(await lastRead()).toEqual(hoursAfter(MONDAY, 1));
  });

  it("answers every address that opens nothing alike: unknown, malformed, revoked, of a person kept out", async () => {
    const someone = await createActor("BENCH");
    const revoked = await makeFeed(someone, SHOP, "", MONDAY);
    const [{ id } = { id: "" }] = (await feedOverview(someone)).own;
    await revokeFeed(someone, id, MONDAY);
    const shut = await makeFeed(someone, SHOP, "", MONDAY);
    await disablePerson(owner, someone.personId, MONDAY);

    const refusals = new Set<string>();
    for (const token of [
      revoked,
      shut,
      "A".repeat(43),
      "",
      "%00",
      "'; DROP TABLE run; --",
      `${shut}x`,
    ]) {
      const { done, refusals: told } = await outcomes([readFeed(token, PUBLIC, MONDAY)]);
      expect(done).toBe(0);
      refusals.add(`${told[0]?.code}: ${told[0]?.message}`);
    }
    expect([...refusals]).toEqual([
      "not-found: This address opens no calendar. Ask the shop for a new one.",
    ]);

    await enablePerson(owner, someone.personId, MONDAY);
    await expect(textOf(shut)).resolves.toContain("BEGIN:VCALENDAR");
    await expect(textOf(revoked)).rejects.toMatchObject({ code: "not-found" });
  });

  it("is revoked by its person or an owner, by nobody else, and once", async () => {
    const [one, other] = [await createActor("BENCH"), await createActor("FRONT_DESK")];
    const token = await makeFeed(one, SHOP, "", MONDAY);
    const [{ id } = { id: "" }] = (await feedOverview(one)).own;
    expect((await feedOverview(other)).others).toEqual([]);
    expect((await feedOverview(owner)).others.map((feed) => feed.id)).toContain(id);

    await expect(revokeFeed(other, id, MONDAY)).rejects.toMatchObject({ code: "not-found" });
    await expect(textOf(token)).resolves.toContain("BEGIN:VCALENDAR");

    const { done, refusals } = await outcomes(
      [owner, one, owner, one].map((actor) => revokeFeed(actor, id, MONDAY)),
    );
    expect(done).toBe(1);
    expect(refusals.map(({ code }) => code)).toEqual(["not-found", "not-found", "not-found"]);
    await expect(textOf(token)).rejects.toMatchObject({ code: "not-found" });
    expect(await database().auditEntry.count({ where: { subjectId: id } })).toBe(2);
  });

  it("is not made for a tank that is not there", async () => {
    await expect(
      makeFeed(bench, { kind: "TANK", tankId: randomUUID() }, "", MONDAY),
    ).rejects.toMatchObject({ code: "not-found" });
  });
});

describe("what a calendar program is sent", () => {
  /** Later than everything above; booked then, and asked for an hour later. */
  const booked = hoursAfter(MONDAY, 30);
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ["Date"], now: booked });
  });
  const anHourLater = () => vi.setSystemTime(hoursAfter(booked, 1));
  afterAll(() => {
    vi.useRealTimers();
  });

  const ask = (token: string, headers: Record<string, string> = {}): Promise<Response> =>
    GET(new Request(`${PUBLIC}/calendar/${token}`, { headers }), {
      params: Promise.resolve({ token }),
    });

  it("is a calendar that nobody keeps and no search engine lists", async () => {
    const { tank, runId } = await bookedRun();
    const token = await tankFeed(tank.id);
    // Another change of the same moment may follow: no date can stand for what is sent.
    expect((await ask(token)).headers.get("last-modified")).toBeNull();
    anHourLater();
    const answer = await ask(`${token}.ics`);
    expect(answer.status).toBe(200);
    expect(Object.fromEntries(answer.headers)).toMatchObject({
      "content-type": "text/calendar; charset=utf-8",
      "cache-control": "private, no-cache",
      "x-content-type-options": "nosniff",
      "x-robots-tag": "noindex, nofollow",
      "last-modified": "Tue, 08 Jan 2030 14:00:00 GMT",
    });
    const event = parsed(await answer.text()).get(runUid(runId));
    expect(event?.component.getFirstPropertyValue("url")).toBe(`${PUBLIC}/runs/${runId}`);
  });

  it("is 304 while nothing changed, and whole again after a change", async () => {
    const { tank, runId } = await bookedRun();
    const token = await tankFeed(tank.id);
    anHourLater();
    const first = await ask(token);
    const etag = first.headers.get("etag") ?? "";
    const since = first.headers.get("last-modified") ?? "";

    const again = await ask(token, { "if-none-match": etag });
    expect(again.status).toBe(304);
    expect(await again.text()).toBe("");
    expect(again.headers.get("etag")).toBe(etag);
    expect((await ask(token, { "if-modified-since": since })).status).toBe(304);

    await cancelRun(bench, runId, new Date());
    const changed = await ask(token, { "if-none-match": etag });
    expect(changed.status).toBe(200);
    expect(changed.headers.get("etag")).not.toBe(etag);
    expect(changed.headers.get("last-modified")).toBeNull();
    expect((await ask(token, { "if-modified-since": since })).status).toBe(200);
  });

  it("is 404 for an address that opens nothing, and 429 for one who tries too many", async () => {
    caller.address = "192.0.2.99";
    const answers = [];
    for (let tries = 0; tries < 61; tries += 1) answers.push((await ask("A".repeat(43))).status);
    expect(new Set(answers.slice(0, 60))).toEqual(new Set([404]));
    expect(answers.at(-1)).toBe(429);
    caller.address = "192.0.2.1";
  });
});

it("reads back a load of many parts, named in part", async () => {
  const tank = await createReadyTank();
  const small = { lengthMm: 90, widthMm: 90, heightMm: 20, massG: 300 };
  const parts = [];
  for (let count = 0; count < 4; count += 1) {
    parts.push(await createPlannedSkillet(bench, tank.id, { part: small }));
  }
  await database().part.update({
    where: { id: parts[0]?.id ?? "" },
    data: { description: 'Häkeleisen, "groß"; 3\\4 Zoll 🛠' },
  });
  const { runId } = await bookRun(
    bench,
    {
      partIds: parts.map(({ id }) => id),
      tankId: tank.id,
      startsAt: MONDAY,
      notes: "",
      laidOut: true,
      idempotencyKey: randomUUID(),
    },
    MONDAY,
  );
  const event = await eventOf(await tankFeed(tank.id), runUid(runId));
  expect(event.summary).toContain("and 1 more");
  expect(event.description).toContain('Häkeleisen, "groß"; 3\\4 Zoll 🛠');
});
