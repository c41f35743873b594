/** Mails about quotes, from the transaction that writes them to a real mail server. */
import { runMigrations } from "graphile-worker";
import { afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { deliverMails, type HandOver, type Post } from "@/lib/services/mail";
import {
  acceptQuote,
  askAboutQuote,
  declineQuote,
  draftQuote,
  jobQuotes,
  openQuote,
  renewLink,
  revokeLink,
  sendQuote,
  withdrawQuote,
} from "@/lib/services/quotes";
import { expireQuotes } from "@/lib/services/upkeep";
import { postTo } from "@/lib/setup/post";
import {
  createActor,
  createJob,
  createPlannedPart,
  createShopWithRates,
  createTank,
  NOW,
} from "../support/factories-money";
import { type MailServer, startMailServer } from "../support/mail-server";

const POST: Post = { isSetUp: true, publicUrl: "https://trough.example" };
const WAYS = [
  { name: "As planned", goal: null, rush: false },
  { name: "Rush", goal: null, rush: true },
];
const later = (minutes: number): Date => new Date(NOW.getTime() + minutes * 60_000);
const at = (moment: Date) => () => moment;

let owner: Actor;
let tankId: string;
let server: MailServer;

beforeAll(async () => {
  await createShopWithRates();
  await database().shop.updateMany({ data: { email: "bench@trough.example", phone: "030 1" } });
  owner = await createActor();
  tankId = (await createTank()).id;
});

beforeEach(async () => {
  await database().mailMessage.deleteMany();
  server = await startMailServer();
});

afterEach(async () => {
  await server.close();
});

async function draftFor(email = "ida@example.org", name = "Ida Moor") {
  const job = await createJob(owner);
  await database().customer.update({ where: { id: job.customerId }, data: { email, name } });
  await createPlannedPart(owner, job.id, tankId);
  const terms = { options: WAYS, messageToCustomer: "" };
  return { job, quoteId: await draftQuote(owner, job.id, terms, NOW), terms };
}

async function sent(email?: string, name?: string) {
  const draft = await draftFor(email, name);
  const token = await sendQuote(owner, draft.quoteId, NOW, POST);
  const offer = (await openQuote(token, NOW))?.offer;
  const answer = { versionId: offer?.versionId ?? "", name: "Ida" };
  return { ...draft, token, answer, optionId: offer?.options[1]?.id ?? "" };
}

const rows = () => database().mailMessage.findMany({ orderBy: { createdAt: "asc" } });
const states = async () => (await rows()).map(({ state }) => state);

describe("what is written", () => {
  it("is the offer with its link, prices and PDF, from the shop to the customer", async () => {
    const { token } = await sent();
    expect(await deliverMails(postTo(server.url), at(NOW))).toBe(1);
    const [mail, ...more] = server.mails;
    expect(more).toEqual([]);
    expect(server.recipients).toEqual(["ida@example.org"]);
    expect(mail?.from?.text).toContain("bench@trough.example");
    expect(mail?.from?.text).toContain("Trough & Anode");
    expect(mail?.subject).toMatch(/^Quote \d+ from Trough & Anode$/);
    const quoted = mail?.text ?? "";
    for (const words of ["Ida Moor", `https://trough.example/q/${token}`, "6 February 2030"]) {
      expect(quoted).toContain(words);
    }
    expect(quoted).toMatch(/As planned: €\d+\.\d\d with tax/);
    const [pdf] = mail?.attachments ?? [];
    expect(pdf?.contentType).toBe("application/pdf");
    expect(pdf?.content.subarray(0, 5).toString()).toBe("%PDF-");
  });

  it("keeps no link once it is sent", async () => {
    const { token } = await sent();
    expect((await rows())[0]?.textBody).toContain(token);
    await deliverMails(postTo(server.url), at(NOW));
    expect(await rows()).toMatchObject([{ state: "SENT", textBody: "", sentAt: NOW, tries: 1 }]);
    expect(JSON.stringify(await rows())).not.toContain(token.slice(0, 8));
  });

  it("calls a second version a change", async () => {
    const { quoteId, job, terms } = await sent();
    await deliverMails(postTo(server.url), at(NOW));
    await draftQuote(owner, job.id, terms, later(1));
    await sendQuote(owner, quoteId, later(2), POST);
    await deliverMails(postTo(server.url), at(later(2)));
    expect(server.mails.map(({ subject }) => subject?.split(" ")[0])).toEqual(["Quote", "Changed"]);
  });

  it("tells the shop what the customer asks and answers", async () => {
    const accepted = await sent();
    await askAboutQuote(accepted.token, { name: "Ida", text: "When?\nIt is urgent." }, NOW, POST);
    const { token, answer, optionId } = accepted;
    await acceptQuote(token, { ...answer, optionId }, later(1), POST);
    await acceptQuote(token, { ...answer, optionId }, later(2), POST);
    const declined = await sent();
    await declineQuote(declined.token, { ...declined.answer, note: "Too dear." }, later(3), POST);
    await deliverMails(postTo(server.url), at(later(5)));
    const toShop = server.mails.filter((_, index) =>
      server.recipients[index]?.startsWith("bench@"),
    );
    const texts = toShop.map(({ text }) => text ?? "").sort();
    expect(texts).toHaveLength(3);
    expect(texts.find((text) => text.includes("When?\nIt is urgent."))).toBeDefined();
    const page = `https://trough.example/jobs/${accepted.job.id}/quote`;
    const yes = texts.find((text) => text.includes("accepted “Rush” for €"));
    expect(yes).toContain(page);
    expect(texts.find((text) => text.includes("Too dear."))).toContain("declined");
    // The shop's mails hold no key of the customer's.
    for (const text of texts) expect(text).not.toContain("/q/");
  });

  it("is nothing where mail is not set up, or somebody has no address", async () => {
    const draft = await draftFor();
    await sendQuote(owner, draft.quoteId, NOW, { ...POST, isSetUp: false });
    const other = await draftFor();
    await sendQuote(owner, other.quoteId, NOW);
    await sent("");
    await sent("ida@example.org, all@example.org");
    expect(await rows()).toEqual([]);
    await sent();
    const view = await jobQuotes(owner, draft.job.id, NOW);
    expect(view.addresses).toEqual({ customer: "ida@example.org", shop: "bench@trough.example" });
  });

  it("cannot be given another head or recipient by a name", async () => {
    const evil = "Ida\r\nBcc: all@example.org\r\n\r\nHello";
    const { token, answer, optionId } = await sent("ida@example.org", evil);
    await acceptQuote(token, { ...answer, optionId, name: evil }, later(1), POST);
    await askAboutQuote(token, { name: evil, text: evil }, later(1), POST);
    await deliverMails(postTo(server.url), at(later(1)));
    expect(server.mails).toHaveLength(3);
    expect([...new Set(server.recipients)].sort()).toEqual([
      "bench@trough.example",
      "ida@example.org",
    ]);
    for (const mail of server.mails) {
      expect(mail.bcc).toBeUndefined();
      expect(mail.headers.has("bcc")).toBe(false);
    }
    await expect(
      database().mailMessage.updateMany({ data: { subject: "Quote\r\nBcc: all@example.org" } }),
    ).rejects.toThrow();
  });
});

describe("sending", () => {
  it("tries again after a refused connection, later each time, and then delivers", async () => {
    await sent();
    const { url } = server;
    await server.close();
    expect(await deliverMails(postTo(url), at(NOW))).toBe(0);
    expect(await rows()).toMatchObject([{ state: "WAITING", tries: 1, nextTryAt: later(1) }]);
    // Not yet due.
    expect(await deliverMails(postTo(url), at(NOW))).toBe(0);
    expect(await rows()).toMatchObject([{ tries: 1 }]);
    expect(await deliverMails(postTo(url), at(later(1)))).toBe(0);
    expect(await rows()).toMatchObject([{ state: "WAITING", tries: 2, nextTryAt: later(6) }]);
    server = await startMailServer({ port: Number(new URL(url).port) });
    expect(await deliverMails(postTo(url), at(later(6)))).toBe(1);
    expect(await rows()).toMatchObject([{ state: "SENT", tries: 3, textBody: "" }]);
    expect(server.mails).toHaveLength(1);
  });

  it("waits for a busy server, and gives up on one that says no, saying why", async () => {
    await server.close();
    server = await startMailServer({ answers: [451, 550] });
    await sent();
    await deliverMails(postTo(server.url), at(NOW));
    expect(await rows()).toMatchObject([{ state: "WAITING", tries: 1 }]);
    await deliverMails(postTo(server.url), at(later(1)));
    const [row] = await rows();
    expect(row).toMatchObject({ state: "FAILED", tries: 2, textBody: "" });
    expect(row?.lastError).toContain("not now");
    expect(await deliverMails(postTo(server.url), at(later(999)))).toBe(0);
  });

  it("gives up after six tries", async () => {
    await sent();
    const refuse: HandOver = () => Promise.resolve({ kind: "refused", why: "Busy.", again: true });
    for (let minute = 0; minute < 1000; minute += 1) {
      await database().mailMessage.updateMany({
        where: { state: "WAITING" },
        data: { nextTryAt: later(minute) },
      });
      await deliverMails(refuse, at(later(minute)));
      if ((await states())[0] === "FAILED") break;
    }
    expect(await rows()).toMatchObject([{ state: "FAILED", tries: 6 }]);
  });

  it("does not send again what may have arrived", async () => {
    await server.close();
    server = await startMailServer({ answers: ["cut"] });
    await sent();
    await deliverMails(postTo(server.url), at(NOW));
    expect(await rows()).toMatchObject([{ state: "FAILED", textBody: "" }]);
    expect((await rows())[0]?.lastError).toContain("may have arrived");
    await deliverMails(postTo(server.url), at(later(999)));
    expect(server.mails).toHaveLength(1);
  });

  it("gives up what a lost worker had, ten minutes on", async () => {
    await sent();
    await database().mailMessage.updateMany({ data: { state: "SENDING", claimedAt: NOW } });
    await deliverMails(postTo(server.url), at(later(9)));
    expect(await states()).toEqual(["SENDING"]);
    await deliverMails(postTo(server.url), at(later(11)));
    expect(await states()).toEqual(["FAILED"]);
    expect(server.mails).toEqual([]);
  });

  it("sends each mail once with four workers at once", async () => {
    for (let number = 0; number < 6; number += 1) await sent(`ida${number}@example.org`);
    const counts = await Promise.all(
      Array.from({ length: 4 }, () => deliverMails(postTo(server.url), at(NOW))),
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(6);
    expect([...server.recipients].sort()).toEqual(
      Array.from({ length: 6 }, (_, number) => `ida${number}@example.org`),
    );
    expect(new Set(server.mails.map(({ messageId }) => messageId)).size).toBe(6);
  });
});

describe("the worker", () => {
  it("is asked once for all that waits, where there is a queue to ask", async () => {
    await runMigrations({ connectionString: process.env["DATABASE_URL"] ?? "" });
    await sent();
    await sent();
    const jobs = await database().$queryRaw<{ task: string; key: string }[]>`
      SELECT "task_identifier" AS "task", "key" FROM graphile_worker.jobs`;
    expect(jobs).toEqual([{ task: "sendMail", key: "sendMail" }]);
  });
});

describe("what no longer holds", () => {
  it.each([
    ["withdrawn", ({ quoteId }: { quoteId: string }) => withdrawQuote(owner, quoteId, later(1))],
    [
      "its link revoked",
      ({ quoteId }: { quoteId: string }) => revokeLink(owner, quoteId, later(1)),
    ],
    ["past its last day", () => expireQuotes(later(40 * 24 * 60))],
  ])("is dropped while it waits: %s", async (_, act) => {
    const quote = await sent();
    await act(quote);
    expect(await rows()).toMatchObject([{ state: "DROPPED", textBody: "" }]);
    expect(await deliverMails(postTo(server.url), at(later(2)))).toBe(0);
    expect(server.mails).toEqual([]);
  });

  it("is dropped when a new draft takes its place", async () => {
    const { job, terms } = await sent();
    await draftQuote(owner, job.id, terms, later(1));
    expect(await states()).toEqual(["DROPPED"]);
  });

  it("gives way to the newer link, which alone is sent", async () => {
    const { quoteId } = await sent();
    const renewed = await renewLink(owner, quoteId, later(1), POST);
    await deliverMails(postTo(server.url), at(later(1)));
    expect(await states()).toEqual(["DROPPED", "SENT"]);
    expect(server.mails.map(({ text }) => text?.includes(renewed))).toEqual([true]);
  });

  it("either goes out or is dropped when it is withdrawn at that moment, never both", async () => {
    for (let round = 0; round < 5; round += 1) {
      const before = server.mails.length;
      const { quoteId } = await sent();
      await Promise.all([
        deliverMails(postTo(server.url), at(later(1))),
        withdrawQuote(owner, quoteId, later(1)),
      ]);
      const row = await database().mailMessage.findFirstOrThrow({ where: { quoteId } });
      expect(row.textBody).toBe("");
      expect(server.mails.length - before).toBe(row.state === "SENT" ? 1 : 0);
      expect(["SENT", "DROPPED"]).toContain(row.state);
    }
  });
});
