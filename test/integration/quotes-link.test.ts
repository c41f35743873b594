/** The address of a quote's PDF, as anybody may ask for it: by its link alone, privately, and not without end. */
import { beforeAll, describe, expect, it, vi } from "vitest";
import { GET } from "@/app/(customer)/q/[token]/pdf/route";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { draftQuote, renewLink, revokeLink, sendQuote } from "@/lib/services/quotes";
import {
  createActor,
  createJob,
  createPlannedPart,
  createShopWithRates,
  createTank,
} from "../support/factories-money";

const caller = vi.hoisted(() => ({ address: "192.0.2.1" }));
// The one thing that a request brings along besides itself.
vi.mock("next/headers", () => ({
  headers: () => Promise.resolve(new Headers({ "x-forwarded-for": caller.address })),
  cookies: () => Promise.reject(new Error("a private link has no session")),
}));

/** Tries a minute that one address has; see lib/server/limits.ts. */
const TRIES = 60;
const UNKNOWN = "A".repeat(43);

let owner: Actor;

beforeAll(async () => {
  await createShopWithRates();
  // The route reads the clock, so the rates must hold today.
  await database().rateCard.updateMany({ data: { validFrom: new Date("2020-01-01T00:00:00Z") } });
  owner = await createActor();
});

async function sent() {
  const job = await createJob(owner);
  await createPlannedPart(owner, job.id, (await createTank()).id);
  const options = [{ name: "As planned", goal: null, rush: false }];
  const quoteId = await draftQuote(owner, job.id, { options, messageToCustomer: "" }, new Date());
  return { job, quoteId, token: await sendQuote(owner, quoteId, new Date()) };
}

const ask = (token: string, address = "192.0.2.1"): Promise<Response> => {
  caller.address = address;
  const request = new Request(`https://shop.example.org/q/${token}/pdf`);
  return GET(request, { params: Promise.resolve({ token }) });
};

describe("the PDF behind a private link", () => {
  it("is its own quote, kept by no cache", async () => {
    const { token, quoteId } = await sent();
    const response = await ask(token);
    expect(response.status).toBe(200);
    expect(response.headers.get("content-type")).toBe("application/pdf");
    expect(response.headers.get("cache-control")).toContain("no-store");
    const { number } = await database().quote.findUniqueOrThrow({ where: { id: quoteId } });
    expect(response.headers.get("content-disposition")).toContain(`quote-${number}-1.pdf`);
  });

  it("is the same nothing for an unknown, revoked or replaced link, and for an id in its place", async () => {
    const revoked = await sent();
    await revokeLink(owner, revoked.quoteId, new Date());
    const replaced = await sent();
    await renewLink(owner, replaced.quoteId, new Date());
    const { linkTokenHash } = await database().quote.findUniqueOrThrow({
      where: { id: replaced.quoteId },
    });
    const answers = new Set<string>();
    for (const token of [
      UNKNOWN,
      "",
      "x".repeat(5000),
      revoked.token,
      replaced.token,
      replaced.quoteId,
      replaced.job.id,
      linkTokenHash ?? "",
    ]) {
      const response = await ask(token);
      expect(response.status).toBe(404);
      answers.add(await response.text());
    }
    expect(answers.size).toBe(1);
  });

  it("cannot be tried without end from one address, while others may go on", async () => {
    const statuses: number[] = [];
    for (let tried = 0; tried <= TRIES; tried += 1) {
      statuses.push((await ask(UNKNOWN, "192.0.2.99")).status);
    }
    expect(statuses.slice(0, TRIES).every((status) => status === 404)).toBe(true);
    expect(statuses[TRIES]).toBe(429);
    const { token } = await sent();
    expect((await ask(token, "192.0.2.99")).status).toBe(429);
    expect((await ask(token, "192.0.2.100")).status).toBe(200);
  });
});
