import { describe, expect, it } from "vitest";
import { database } from "@/lib/data/client";
import { expireQuotes, tidyUp } from "@/lib/services";

const day = (text: string): Date => new Date(`${text}T00:00:00Z`);

async function openShop(timeZone: string): Promise<void> {
  await database().shop.create({
    data: {
      name: "Test shop",
      timeZone,
      currency: "EUR",
      locale: "en-IE",
      openedAt: day("2029-01-01"),
    },
  });
}

async function createPerson() {
  return database().person.create({
    data: {
      email: `${crypto.randomUUID()}@example.org`,
      name: "Test person",
      role: "OWNER",
      passwordHash: "none",
      createdAt: day("2029-01-01"),
    },
  });
}

async function createSentQuote(number: number, validUntil: string) {
  const { id: personId } = await createPerson();
  const customer = await database().customer.create({
    data: { name: "Test customer", createdAt: day("2029-01-01") },
  });
  const job = await database().job.create({
    data: {
      number,
      customerId: customer.id,
      takenInAt: day("2029-01-01"),
      takenInById: personId,
    },
  });
  const quote = await database().quote.create({
    data: { number, jobId: job.id, createdAt: day("2029-01-01") },
  });
  return database().quoteVersion.create({
    data: {
      quoteId: quote.id,
      version: 1,
      state: "SENT",
      madeAt: day("2029-01-01"),
      validUntil: day(validUntil),
      currency: "EUR",
    },
  });
}

describe("expireQuotes", () => {
  it("has nothing to do before the shop is open", async () => {
    expect(await expireQuotes(new Date("2030-01-01T12:00:00Z"))).toBe(0);
  });

  it("ends a quote at midnight of the shop's own zone, once, and writes it down", async () => {
    await openShop("America/New_York");
    const last = await createSentQuote(9001, "2030-01-07");
    const longer = await createSentQuote(9002, "2030-01-08");
    const state = async (id: string) =>
      (await database().quoteVersion.findUniqueOrThrow({ where: { id } })).state;

    // 23:59 on the seventh in New York, when it is the eighth in Greenwich already.
    expect(await expireQuotes(new Date("2030-01-08T04:59:00Z"))).toBe(0);
    expect(await expireQuotes(new Date("2030-01-08T05:00:00Z"))).toBe(1);
    expect(await expireQuotes(new Date("2030-01-08T05:15:00Z"))).toBe(0);

    expect(await state(last.id)).toBe("EXPIRED");
    expect(await state(longer.id)).toBe("SENT");
    const notes = await database().auditEntry.findMany({ where: { action: "quote.expired" } });
    expect(notes.map((note) => note.subjectId)).toEqual([last.quoteId]);
  });
});

describe("tidyUp", () => {
  it("deletes what ended thirty days ago, and keeps what is younger", async () => {
    const now = new Date("2030-03-01T12:00:00Z");
    const { id: personId } = await createPerson();
    const session = (expiresAt: string, revokedAt?: string) => ({
      personId,
      createdAt: day("2030-01-01"),
      lastSeenAt: day("2030-01-01"),
      expiresAt: day(expiresAt),
      revokedAt: revokedAt ? day(revokedAt) : null,
    });
    const invite = (expiresAt: string, acceptedAt?: string) => ({
      email: "new@example.org",
      name: "New person",
      role: "BENCH" as const,
      tokenHash: crypto.randomUUID(),
      createdAt: day("2030-01-01"),
      expiresAt: day(expiresAt),
      acceptedAt: acceptedAt ? day(acceptedAt) : null,
      invitedById: personId,
    });
    await database().sessionRecord.createMany({
      data: [
        session("2030-01-15"),
        session("2030-02-25"),
        session("2030-06-01"),
        session("2030-06-01", "2030-01-10"),
      ],
    });
    await database().invite.createMany({
      data: [invite("2030-01-15"), invite("2030-01-15", "2030-01-10"), invite("2030-02-25")],
    });
    await database().rateLimit.createMany({
      data: [
        { key: "over", points: 3, expire: now.getTime() - 1 },
        { key: "counting", points: 3, expire: now.getTime() + 1000 },
      ],
    });

    expect(await tidyUp(now)).toBe(4);

    const sessions = await database().sessionRecord.findMany({ orderBy: { expiresAt: "asc" } });
    expect(sessions.map((one) => one.expiresAt)).toEqual([day("2030-02-25"), day("2030-06-01")]);
    expect(await database().invite.count()).toBe(2);
    const tries = await database().rateLimit.findMany();
    expect(tries.map((one) => one.key)).toEqual(["counting"]);
  });
});
