/** A quote from draft to answer, by the shop and by the customer's link. */
import { createHash } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { isRefusal } from "@/lib/errors";
import {
  acceptQuote,
  askAboutQuote,
  declineQuote,
  draftQuote,
  jobQuotes,
  openQuote,
  quotePdfByLink,
  quotePdfForShop,
  renewLink,
  revokeLink,
  sendQuote,
  withdrawQuote,
} from "@/lib/services/quotes";
import { expireQuotes } from "@/lib/services/upkeep";
import {
  createActor,
  createJob,
  createPlannedPart,
  createShopWithRates,
  createTank,
  NOW,
} from "../support/factories-money";

const AS_PLANNED = { name: "As planned", goal: null, rush: false, discountPercent: 0 };
const TERMS = { options: [AS_PLANNED], messageToCustomer: "" };
const discounted = (discountPercent: number, rush = false) => ({
  ...TERMS,
  options: [{ ...AS_PLANNED, discountPercent, rush }],
});
const DAY = 86_400_000;
const later = (days: number): Date => new Date(NOW.getTime() + days * DAY);

let owner: Actor;
let bench: Actor;
let tankId: string;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
  tankId = (await createTank()).id;
});

async function plannedJob() {
  const job = await createJob(owner);
  await createPlannedPart(owner, job.id, tankId);
  return job;
}

async function sentQuote() {
  const job = await plannedJob();
  const quoteId = await draftQuote(owner, job.id, TERMS, NOW);
  const token = await sendQuote(owner, quoteId, NOW);
  const opened = await openQuote(token, NOW);
  const versionId = opened?.offer?.versionId ?? "";
  return { job, quoteId, token, versionId, answer: { versionId, name: "Ida Moor" } };
}

async function stateOf(versionId: string) {
  return (await database().quoteVersion.findUniqueOrThrow({ where: { id: versionId } })).state;
}

describe("drafting", () => {
  it("prices the planned parts so that lines, tax and totals add up in the database", async () => {
    const job = await createJob(owner);
    await createPlannedPart(owner, job.id, tankId);
    await createPlannedPart(owner, job.id, tankId, { mark: "B", quantity: 3 });
    const quoteId = await draftQuote(owner, job.id, discounted(7.5, true), NOW);

    const [sums] = await database().$queryRaw<Record<string, unknown>[]>`
      SELECT o."net_minor" = sum(l."net_minor") AS "net",
             o."tax_minor" = sum(l."tax_minor") AS "tax",
             o."total_minor" = sum(l."net_minor") + sum(l."tax_minor") AS "total",
             o."tax_minor" = round(o."net_minor" * (o."taxes" -> 0 ->> 'percent')::numeric / 100) AS "percent",
             count(*)::int AS "lines"
        FROM "quote_version" v
        JOIN "quote_option" o ON o."quote_version_id" = v."id"
        JOIN "quote_line" l ON l."quote_option_id" = o."id"
       WHERE v."quote_id" = ${quoteId}::uuid GROUP BY o."id"`;
    expect(sums).toEqual({ net: true, tax: true, total: true, percent: true, lines: 4 });
    const [quote] = (await jobQuotes(owner, job.id, NOW)).quotes;
    const [option] = quote?.versions[0]?.options ?? [];
    expect(option?.netMinor).toBeGreaterThan(0);
    expect(option?.stored?.priced.netMinor).toBe(option?.netMinor);
  });

  it("writes over a draft, and supersedes what was sent", async () => {
    const job = await plannedJob();
    const first = await draftQuote(owner, job.id, TERMS, NOW);
    const again = await draftQuote(owner, job.id, discounted(10), NOW);
    expect(again).toBe(first);
    expect(await database().quoteVersion.count({ where: { quoteId: first } })).toBe(1);

    const token = await sendQuote(owner, first, NOW);
    await draftQuote(owner, job.id, TERMS, NOW);
    const versions = await database().quoteVersion.findMany({
      where: { quoteId: first },
      orderBy: { version: "asc" },
    });
    expect(versions.map(({ state }) => state)).toEqual(["SUPERSEDED", "DRAFT"]);
    expect(await openQuote(token, NOW)).toMatchObject({ offer: null });
  });

  it("makes one draft of ten at once, with one number", async () => {
    const job = await plannedJob();
    const before = await database().quote.count();
    const ids = await Promise.all(
      Array.from({ length: 10 }, () => draftQuote(owner, job.id, TERMS, NOW)),
    );
    expect(new Set(ids).size).toBe(1);
    expect(await database().quote.count()).toBe(before + 1);
    expect(await database().quoteVersion.count({ where: { quoteId: ids[0] ?? "" } })).toBe(1);
  });

  it("prices only what is not accepted yet, in a quote of its own", async () => {
    const { job, token, answer } = await sentQuote();
    await acceptQuote(token, answer, NOW);
    await expect(draftQuote(owner, job.id, TERMS, NOW)).rejects.toMatchObject({ code: "conflict" });

    const { part } = await createPlannedPart(owner, job.id, tankId, { mark: "B" });
    const second = await draftQuote(owner, job.id, TERMS, NOW);
    const lines = await database().quoteLine.findMany({
      where: { option: { version: { quoteId: second } } },
    });
    expect(lines.map(({ partId }) => partId)).toEqual([part.id]);
  });

  it("refuses a job without plans, a closed one, and terms out of range", async () => {
    const empty = await createJob(owner);
    await expect(draftQuote(owner, empty.id, TERMS, NOW)).rejects.toMatchObject({
      code: "conflict",
    });
    const job = await plannedJob();
    await expect(draftQuote(owner, job.id, discounted(101), NOW)).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(
      draftQuote(owner, job.id, { ...TERMS, validUntil: later(-2) }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
    await database().job.update({ where: { id: job.id }, data: { state: "CLOSED" } });
    await expect(draftQuote(owner, job.id, TERMS, NOW)).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("the private link", () => {
  it("opens its quote and keeps only the token's hash", async () => {
    const { token, quoteId } = await sentQuote();
    expect(token).toMatch(/^[\w-]{43}$/);
    const row = await database().quote.findUniqueOrThrow({ where: { id: quoteId } });
    expect(row.linkTokenHash).toBe(createHash("sha256").update(token).digest("hex"));
    expect(JSON.stringify(await database().auditEntry.findMany())).not.toContain(token);
    expect(await openQuote(token, NOW)).toMatchObject({ quoteNumber: row.number, progress: [] });
  });

  it("tells nothing about other quotes, nor the shop's own working", async () => {
    const { token } = await sentQuote();
    const text = JSON.stringify(await openQuote(token, NOW));
    expect(text).not.toMatch(/marginPercent|overhead|labourPerHour|MARGIN/);
  });

  it("names no row but its version and options, and prints no other quote", async () => {
    const { token, job, quoteId, versionId } = await sentQuote();
    const text = JSON.stringify(await openQuote(token, NOW));
    const { parts, customerId } = await database().job.findUniqueOrThrow({
      where: { id: job.id },
      include: { parts: { select: { id: true } } },
    });
    for (const id of [job.id, quoteId, customerId, ...parts.map((part) => part.id)]) {
      expect(text).not.toContain(id);
    }
    const options = await database().quoteOption.findMany({ where: { quoteVersionId: versionId } });
    const known = new Set([versionId, ...options.map(({ id }) => id)]);
    const ids = text.match(/[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}/g) ?? [];
    expect(ids.every((id) => known.has(id))).toBe(true);
    const { number } = await database().quote.findUniqueOrThrow({ where: { id: quoteId } });
    expect((await quotePdfByLink(token, NOW)).name).toBe(`quote-${number}-1.pdf`);
  });

  it("tells of a second version what changed since the one that was sent before", async () => {
    const { job, quoteId } = await sentQuote();
    await draftQuote(owner, job.id, discounted(10), NOW);
    // A draft that nobody was sent is no version that somebody saw.
    await draftQuote(owner, job.id, discounted(20, true), NOW);
    const offer = (await openQuote(await sendQuote(owner, quoteId, NOW), NOW))?.offer;
    expect(offer?.changes).toMatchObject({ from: 1, to: 2, isEmpty: false });
    const [change] = offer?.changes?.options ?? [];
    expect(change?.total.after).toBe(offer?.options[0]?.totalMinor);
    expect(change?.lines.map(({ beforeMinor }) => beforeMinor)).toContain(null);
    const shown = (await jobQuotes(owner, job.id, NOW)).quotes[0]?.versions;
    expect(shown?.map(({ difference }) => difference?.to ?? null)).toEqual([2, null]);
  });

  it("is the same nothing when unknown, revoked or past its day", async () => {
    const { token, quoteId, answer } = await sentQuote();
    expect(await openQuote("A".repeat(43), NOW)).toBeNull();
    expect(await openQuote(token, later(40))).toBeNull();
    await revokeLink(owner, quoteId, NOW);
    expect(await openQuote(token, NOW)).toBeNull();
    for (const attempt of [
      () => acceptQuote(token, answer, NOW),
      () => acceptQuote("A".repeat(43), answer, NOW),
      () => declineQuote(token, answer, NOW),
      () => askAboutQuote(token, { name: "", text: "When?" }, NOW),
      () => quotePdfByLink(token, NOW),
    ]) {
      await expect(attempt()).rejects.toMatchObject({ code: "not-found" });
    }
    await expect(revokeLink(owner, quoteId, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("works up to the last second of the last valid day where the shop is", async () => {
    const { token } = await sentQuote();
    // 30 days from Monday 7 January; Berlin is one hour ahead of UTC in February.
    expect(await openQuote(token, new Date("2030-02-06T22:59:59Z"))).not.toBeNull();
    expect(await openQuote(token, new Date("2030-02-06T23:00:00Z"))).toBeNull();
  });

  it("is replaced by a new one, which alone then works", async () => {
    const { token, quoteId } = await sentQuote();
    const renewed = await renewLink(owner, quoteId, NOW);
    expect(await openQuote(token, NOW)).toBeNull();
    expect(await openQuote(renewed, NOW)).not.toBeNull();
  });

  it("does not open another quote's version", async () => {
    const mine = await sentQuote();
    const other = await sentQuote();
    await expect(
      acceptQuote(mine.token, { ...mine.answer, versionId: other.versionId }, NOW),
    ).rejects.toMatchObject({ code: "not-found" });
    expect(await stateOf(other.versionId)).toBe("SENT");
  });

  it("stays open after acceptance and shows how the work stands", async () => {
    const { job, token, answer } = await sentQuote();
    await acceptQuote(token, answer, NOW);
    await database().part.updateMany({ where: { jobId: job.id }, data: { state: "IN_BATH" } });
    const opened = await openQuote(token, later(90));
    expect(opened?.offer).toMatchObject({ state: "ACCEPTED", answeredName: "Ida Moor" });
    expect(opened?.progress).toEqual([
      { mark: "A", description: "gate hinge", words: "in the bath now", step: 3 },
    ]);
  });
});

describe("answering", () => {
  it("accepts once, and the same answer again changes nothing", async () => {
    const { token, versionId, answer, quoteId } = await sentQuote();
    await acceptQuote(token, answer, NOW);
    await acceptQuote(token, { ...answer, name: "Somebody else" }, later(1));
    const row = await database().quoteVersion.findUniqueOrThrow({ where: { id: versionId } });
    expect(row).toMatchObject({ state: "ACCEPTED", answeredName: "Ida Moor", answeredAt: NOW });
    const told = { subjectId: quoteId, action: "quote.accepted" };
    expect(await database().auditEntry.count({ where: told })).toBe(1);
    await expect(declineQuote(token, answer, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("lets one of twenty simultaneous acceptances write, and refuses none", async () => {
    const { token, answer, quoteId } = await sentQuote();
    await Promise.all(Array.from({ length: 20 }, () => acceptQuote(token, answer, NOW)));
    const told = { subjectId: quoteId, action: "quote.accepted" };
    expect(await database().auditEntry.count({ where: told })).toBe(1);
  });

  it("has one outcome when the customer accepts while the shop withdraws", async () => {
    for (let round = 0; round < 6; round += 1) {
      const { token, answer, quoteId, versionId } = await sentQuote();
      const [accepted, withdrawn] = await Promise.allSettled([
        acceptQuote(token, answer, NOW),
        withdrawQuote(owner, quoteId, NOW),
      ]);
      const state = await stateOf(versionId);
      expect(accepted.status === "fulfilled").toBe(state === "ACCEPTED");
      expect(withdrawn.status === "fulfilled").toBe(state === "SUPERSEDED");
      for (const answered of [accepted, withdrawn]) {
        if (answered.status === "rejected") expect(isRefusal(answered.reason)).toBe(true);
      }
    }
  });

  it("has one outcome when the customer accepts while the shop makes a new version", async () => {
    for (let round = 0; round < 6; round += 1) {
      const { job, token, answer, versionId } = await sentQuote();
      const [accepted, drafted] = await Promise.allSettled([
        acceptQuote(token, answer, NOW),
        draftQuote(owner, job.id, TERMS, NOW),
      ]);
      const state = await stateOf(versionId);
      expect(accepted.status === "fulfilled").toBe(state === "ACCEPTED");
      expect(drafted.status === "fulfilled").toBe(state === "SUPERSEDED");
    }
  });

  it("is refused past the last day, whether or not the worker came by", async () => {
    const unswept = await sentQuote();
    // A link that was made to last longer than the offer does not make the offer last.
    await database().quote.update({
      where: { id: unswept.quoteId },
      data: { linkExpiresAt: later(60) },
    });
    await expect(acceptQuote(unswept.token, unswept.answer, later(31))).rejects.toMatchObject({
      code: "expired",
    });
    expect(await stateOf(unswept.versionId)).toBe("SENT");

    expect(await expireQuotes(later(31))).toBeGreaterThan(0);
    expect(await stateOf(unswept.versionId)).toBe("EXPIRED");
    await expect(acceptQuote(unswept.token, unswept.answer, later(31))).rejects.toMatchObject({
      code: "expired",
    });
  });

  it("needs a name, and keeps the reason of a refusal", async () => {
    const { token, answer, versionId } = await sentQuote();
    await expect(acceptQuote(token, { ...answer, name: "  " }, NOW)).rejects.toMatchObject({
      code: "invalid",
      fields: { name: expect.any(String) as string },
    });
    await declineQuote(token, { ...answer, note: "Too dear for a hinge." }, NOW);
    const row = await database().quoteVersion.findUniqueOrThrow({ where: { id: versionId } });
    expect(row).toMatchObject({ state: "DECLINED", answerNote: "Too dear for a hinge." });
  });

  it("takes questions to the shop, and not without end", async () => {
    const { token, job } = await sentQuote();
    for (let number = 1; number <= 10; number += 1) {
      await askAboutQuote(token, { name: "Ida", text: `Question ${number}` }, NOW);
    }
    await expect(askAboutQuote(token, { name: "Ida", text: "More" }, NOW)).rejects.toMatchObject({
      code: "too-many-tries",
    });
    const { events } = await jobQuotes(owner, job.id, NOW);
    expect(events.filter(({ action }) => action === "quote.question")).toHaveLength(10);
  });
});

describe("who may", () => {
  it("draft, send, withdraw and hand out links: not the bench, nor an unknown role", async () => {
    const { job, quoteId, versionId } = await sentQuote();
    const stranger = { ...owner, role: "VISITOR" } as unknown as Actor;
    for (const actor of [bench, stranger]) {
      for (const attempt of [
        () => draftQuote(actor, job.id, TERMS, NOW),
        () => sendQuote(actor, quoteId, NOW),
        () => withdrawQuote(actor, quoteId, NOW),
        () => renewLink(actor, quoteId, NOW),
        () => revokeLink(actor, quoteId, NOW),
        () => jobQuotes(actor, job.id, NOW),
        () => quotePdfForShop(actor, versionId, quoteId),
      ]) {
        await expect(attempt()).rejects.toMatchObject({ code: "not-allowed" });
      }
    }
    expect(await stateOf(versionId)).toBe("SENT");
  });
});

describe("on paper", () => {
  it("prints for the shop and for the customer", async () => {
    const { token, quoteId, versionId } = await sentQuote();
    for (const file of [
      await quotePdfForShop(owner, versionId, quoteId),
      await quotePdfByLink(token, NOW),
    ]) {
      expect(Buffer.from(file.bytes).subarray(0, 5).toString()).toBe("%PDF-");
      expect(file.name).toMatch(/^quote-\d+-1\.pdf$/);
    }
  });
});
