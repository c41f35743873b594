/** Being paid: statements, credit notes and payments, and what the database refuses of them. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { documentsOfJob, inTransaction, violatedConstraint } from "@/lib/data";
import {
  billPdfFor,
  correctPayment,
  creditStatement,
  issueStatement,
  jobMoney,
  jobOwes,
  openBalances,
  openBalancesFile,
  recordPayment,
} from "@/lib/services/billing";
import { acceptQuote, draftQuote, openQuote, sendQuote } from "@/lib/services/quotes";
import {
  createActor,
  createJob,
  createPlannedPart,
  createShopWithRates,
  createTank,
  NOW,
} from "../support/factories-money";
import { outcomes } from "../support/people";

const AS_PLANNED = { name: "As planned", goal: null, rush: false, discountPercent: 0 };
const TERMS = { options: [AS_PLANNED], messageToCustomer: "" };
const DAY = 86_400_000;
const TODAY = new Date("2030-01-07T00:00:00Z");
const later = (days: number): Date => new Date(NOW.getTime() + days * DAY);

let owner: Actor;
let desk: Actor;
let bench: Actor;
let tankId: string;

beforeAll(async () => {
  await createShopWithRates();
  await database().shop.update({
    where: { id: 1 },
    data: { taxNumber: "DE 811", paymentDays: 14, bankDetails: "Account 1" },
  });
  [owner, desk, bench] = [
    await createActor(),
    await createActor("FRONT_DESK"),
    await createActor("BENCH"),
  ];
  tankId = (await createTank()).id;
});

let serial = 0;
const key = (): string => `key ${(serial += 1)}`;

/** A job whose quote was accepted and whose part is done. */
async function doneJob() {
  const job = await createJob(owner);
  const { part } = await createPlannedPart(owner, job.id, tankId);
  const token = await sendQuote(owner, await draftQuote(owner, job.id, TERMS, NOW), NOW);
  const offer = (await openQuote(token, NOW))?.offer;
  await acceptQuote(token, { versionId: offer?.versionId ?? "", name: "Ida Moor" }, NOW);
  await database().part.update({ where: { id: part.id }, data: { state: "FINISHED" } });
  return { job, part };
}

const issue = (jobId: string, change: Partial<Parameters<typeof issueStatement>[1]> = {}) =>
  issueStatement(
    desk,
    { jobId, extras: [], evenUnfinished: false, idempotencyKey: key(), ...change },
    NOW,
  );

const pay = (jobId: string, amountMinor: number, refund = false, idempotencyKey = key()) =>
  recordPayment(
    desk,
    {
      jobId,
      amountMinor,
      refund,
      receivedOn: TODAY,
      method: "CASH",
      reference: "",
      note: "",
      idempotencyKey,
    },
    NOW,
  );

const credit = (statementId: string, asked: Parameters<typeof creditStatement>[1]["asked"]) =>
  creditStatement(desk, { statementId, asked, reason: "Agreed", idempotencyKey: key() }, NOW);

async function refusedBy(work: () => Promise<unknown>): Promise<string | undefined> {
  try {
    await work();
  } catch (error) {
    return violatedConstraint(error) ?? String(error);
  }
  throw new Error("the database should have refused this");
}

describe("a final statement", () => {
  it("charges what was accepted and agreed since, tells what was paid, and keeps who it was for", async () => {
    const { job } = await doneJob();
    await pay(job.id, 500);
    const accepted = (await jobMoney(owner, job.id, NOW)).accepted.totalMinor;
    await issue(job.id, {
      extras: [
        { label: "A second pass", amountMinor: 1000, taxCode: "standard" },
        { label: "Pickup", amountMinor: 250, taxCode: "none" },
        { label: "Goodwill", amountMinor: -100, taxCode: "standard" },
      ],
    });
    await database().customer.update({ where: { id: job.customerId }, data: { name: "Renamed" } });
    await database().shop.update({ where: { id: 1 }, data: { taxNumber: "DE 812" } });

    const money = await jobMoney(owner, job.id, NOW);
    const [statement] = money.documents;
    expect(statement).toMatchObject({
      kind: "STATEMENT",
      totalMinor: accepted + 1000 + 250 - 100 + 171,
      paidMinor: 500,
      shopTaxNumber: "DE 811",
      dueOn: new Date("2030-01-21T00:00:00Z"),
      issuedBy: desk.name,
    });
    expect(statement?.customerName).not.toBe("Renamed");
    expect(statement?.paid).toEqual([{ on: "2030-01-07", method: "CASH", amountMinor: 500 }]);
    expect(money.balance.balanceMinor).toBe((statement?.totalMinor ?? 0) - 500);
    expect(statement?.taxes.map(({ percent }) => percent)).toEqual([19, 0]);
    await database().shop.update({ where: { id: 1 }, data: { taxNumber: "DE 811" } });
  });

  it("waits until all is done, unless it is asked for, and comes once a job and a key", async () => {
    const { job, part } = await doneJob();
    await database().part.update({ where: { id: part.id }, data: { state: "IN_BATH" } });
    await expect(issue(job.id)).rejects.toMatchObject({
      code: "conflict",
      message: "Still to be done: part A.",
    });
    const idempotencyKey = key();
    const first = await issue(job.id, { evenUnfinished: true, idempotencyKey });
    expect(await issue(job.id, { evenUnfinished: true, idempotencyKey })).toBe(first);
    await expect(issue(job.id, { evenUnfinished: true })).rejects.toMatchObject({
      code: "conflict",
    });
    await credit(first, "rest");
    await issue(job.id, { evenUnfinished: true });
    const kinds = (await documentsOfJob(database(), job.id)).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === "STATEMENT")).toHaveLength(2);
  });

  it("is refused where there is nothing to charge, or a tax is no longer there", async () => {
    const job = await createJob(owner);
    await expect(issue(job.id)).rejects.toMatchObject({ code: "invalid" });
    const extra = { label: "Advice", amountMinor: 100, taxCode: "standard" };
    await expect(issue(job.id, { extras: [{ ...extra, taxCode: "gone" }] })).rejects.toMatchObject({
      fields: { taxCode0: "Choose one of the list." },
    });
    await expect(
      issue(job.id, { extras: [{ ...extra, amountMinor: -100 }] }),
    ).rejects.toMatchObject({ code: "invalid" });
    await issue(job.id, { extras: [extra] });
  });

  it("is for those who may bill and seen by those who see money", async () => {
    const { job } = await doneJob();
    const asked = { jobId: job.id, extras: [], evenUnfinished: false, idempotencyKey: key() };
    await expect(issueStatement(bench, asked, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(jobMoney(bench, job.id, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(openBalances(bench, 1, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(openBalancesFile(bench, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    expect(await jobOwes(bench, job.id, NOW)).toBeNull();
    const id = await issueStatement(owner, asked, NOW);
    await expect(billPdfFor(bench, id)).rejects.toMatchObject({ code: "not-allowed" });
    expect((await billPdfFor(desk, id)).bytes.length).toBeGreaterThan(5000);
  });
});

describe("numbers of statements and credit notes", () => {
  it("have no gaps and no doubles, whoever writes at once and whatever fails", async () => {
    const jobs = await Promise.all(
      Array.from({ length: 50 }, async (_, index) => ({ index, job: await createJob(owner) })),
    );
    const before = await database().jobDocument.count({ where: { kind: "STATEMENT" } });
    const extras = [{ label: "Work", amountMinor: 1000, taxCode: "standard" }];
    const results = await Promise.allSettled(
      jobs.map(({ index, job }) =>
        index % 3 === 0
          ? // Takes its number, and is undone: the number is free again.
            inTransaction(async (db) => {
              await db.counter.update({
                where: { name: "statement" },
                data: { value: { increment: 1 } },
              });
              throw new Error("undone");
            })
          : issue(job.id, { extras }),
      ),
    );
    const ids = results.flatMap((one) => (one.status === "fulfilled" ? [one.value] : []));
    expect(ids).toHaveLength(33);
    const rows = await database().jobDocument.findMany({
      where: { kind: "STATEMENT" },
      orderBy: { number: "asc" },
      select: { number: true },
    });
    expect(rows.map(({ number }) => number)).toEqual(
      Array.from({ length: before + 33 }, (_, index) => index + 1),
    );

    await outcomes(ids.map((id) => credit(id ?? "", "rest")));
    const notes = await database().jobDocument.findMany({
      where: { kind: "CREDIT_NOTE" },
      orderBy: { number: "asc" },
      select: { number: true },
    });
    expect(notes.map(({ number }) => number)).toEqual(notes.map((_, index) => index + 1));
    expect(notes.length).toBeGreaterThanOrEqual(33);
  });

  it("give one statement to a job that many want to charge at once", async () => {
    const { job } = await doneJob();
    const { done, refusals } = await outcomes(Array.from({ length: 20 }, () => issue(job.id)));
    expect(done).toBe(1);
    expect(refusals.every(({ code }) => code === "conflict")).toBe(true);
  });
});

describe("a credit note", () => {
  it("takes lines back in pieces, to nothing at the end", async () => {
    const { job } = await doneJob();
    const id = await issue(job.id, {
      extras: [{ label: "Pickup", amountMinor: 300, taxCode: "none" }],
    });
    await credit(id, [{ position: 1, grossMinor: 101 }]);
    await credit(id, [{ position: 0, grossMinor: 77 }]);
    await credit(id, "rest");
    const documents = await documentsOfJob(database(), job.id);
    const [statement, ...notes] = documents;
    const sum = (pick: (one: (typeof notes)[number]) => number): number =>
      notes.reduce((all, note) => all + pick(note), 0);
    expect(sum(({ netMinor }) => netMinor)).toBe(statement?.netMinor);
    expect(sum(({ taxMinor }) => taxMinor)).toBe(statement?.taxMinor);
    expect((await jobMoney(owner, job.id, NOW)).balance.balanceMinor).toBe(0);
    await expect(credit(id, "rest")).rejects.toMatchObject({ code: "conflict" });
    const money = await jobMoney(owner, job.id, NOW);
    expect(money.open).toBeNull();
    expect(money.documents[0]?.ofNumber).toBe(statement?.number);
  });

  it("never takes back more than was charged, though many credit at once", async () => {
    const job = await createJob(owner);
    const id = await issue(job.id, {
      extras: [{ label: "Work", amountMinor: 1000, taxCode: "none" }],
    });
    const { done, refusals } = await outcomes(
      Array.from({ length: 30 }, () => credit(id, [{ position: 0, grossMinor: 150 }])),
    );
    expect(done).toBe(6);
    expect(refusals).toHaveLength(24);
    expect(refusals[0]?.fields).toEqual({ gross0: "At most €1.00 is left of it." });
    expect((await jobMoney(owner, job.id, NOW)).balance.balanceMinor).toBe(100);
  });

  it("is refused by the database itself, whatever a caller believes", async () => {
    const job = await createJob(owner);
    const id = await issue(job.id, {
      extras: [
        { label: "Work", amountMinor: 1000, taxCode: "none" },
        { label: "Reduction", amountMinor: -400, taxCode: "none" },
      ],
    });
    const statement = await database().jobDocument.findUniqueOrThrow({ where: { id } });
    const note = (number: number, lines: { ofPosition: number; netMinor: number }[]) => {
      const netMinor = lines.reduce((all, line) => all + line.netMinor, 0);
      const { id: _id, dueOn: _dueOn, lineCount: _count, ...head } = statement;
      return database().jobDocument.create({
        data: {
          ...head,
          taxes: [],
          paid: [],
          kind: "CREDIT_NOTE",
          number,
          refersToId: id,
          dueOn: null,
          netMinor,
          totalMinor: netMinor,
          idempotencyKey: key(),
          lineCount: lines.length,
          lines: {
            create: lines.map((line, position) => ({
              ...line,
              position,
              label: "x",
              taxCode: "none",
              taxMinor: 0,
            })),
          },
        },
      });
    };
    expect(await refusedBy(() => note(9001, [{ ofPosition: 0, netMinor: 700 }]))).toBe(
      "credit_within_statement",
    );
    expect(
      await refusedBy(() =>
        note(9002, [
          { ofPosition: 0, netMinor: 1200 },
          { ofPosition: 1, netMinor: -700 },
        ]),
      ),
    ).toBe("credit_within_line");
    expect(await refusedBy(() => note(9003, [{ ofPosition: 7, netMinor: 10 }]))).toBe(
      "credit_within_line",
    );
    // All of it at once, and then also a line of nothing: its number of lines is known.
    const last = await note(9004, [
      { ofPosition: 0, netMinor: 1000 },
      { ofPosition: 1, netMinor: -400 },
    ]);
    expect(
      await refusedBy(() =>
        database().jobDocumentLine.create({
          data: {
            documentId: last.id,
            position: 5,
            ofPosition: 0,
            label: "x",
            taxCode: "none",
            netMinor: 0,
            taxMinor: 0,
          },
        }),
      ),
    ).toContain("job_document_lines");
  });
});

describe("what was written", () => {
  it("is never changed, deleted or emptied", async () => {
    const { job } = await doneJob();
    const id = await issue(job.id);
    await pay(job.id, 100);
    const db = database();
    const change = /append-only/;
    await expect(db.jobDocument.update({ where: { id }, data: { reason: "x" } })).rejects.toThrow(
      change,
    );
    await expect(db.jobDocument.deleteMany({ where: { id } })).rejects.toThrow(change);
    await expect(
      db.jobDocumentLine.updateMany({ where: { documentId: id }, data: { netMinor: 1 } }),
    ).rejects.toThrow(change);
    await expect(
      db.payment.updateMany({ where: { jobId: job.id }, data: { amountMinor: 1 } }),
    ).rejects.toThrow(change);
    await expect(db.payment.deleteMany({ where: { jobId: job.id } })).rejects.toThrow(change);
    for (const table of ["job_document", "job_document_line", "payment"]) {
      await expect(db.$executeRawUnsafe(`TRUNCATE "${table}" CASCADE`)).rejects.toThrow(change);
    }
  });
});

describe("payments", () => {
  it("are written once a key, and never sum below zero though many refund at once", async () => {
    const job = await createJob(owner);
    const once = key();
    await Promise.all(Array.from({ length: 10 }, () => pay(job.id, 1000, false, once)));
    expect(await database().payment.count({ where: { jobId: job.id } })).toBe(1);
    const { done, refusals } = await outcomes(
      Array.from({ length: 25 }, () => pay(job.id, 150, true)),
    );
    expect(done).toBe(6);
    expect(refusals[0]?.message).toBe("More would go back than was paid for this job.");
    expect((await jobMoney(owner, job.id, NOW)).balance.paidMinor).toBe(100);
  });

  it("are corrected by new entries, each at most once", async () => {
    const job = await createJob(owner);
    await pay(job.id, 10_000);
    const [wrong] = (await jobMoney(owner, job.id, NOW)).payments;
    const correct = () =>
      correctPayment(
        desk,
        {
          paymentId: wrong?.id ?? "",
          reason: "A slip",
          idempotencyKey: key(),
          instead: {
            amountMinor: 1000,
            receivedOn: TODAY,
            method: "CARD",
            reference: "",
            note: "",
          },
        },
        NOW,
      );
    const { done, refusals } = await outcomes(Array.from({ length: 8 }, correct));
    expect([done, refusals.length]).toEqual([1, 7]);
    expect(refusals[0]?.message).toBe("Somebody has taken this entry back already.");
    const { payments, balance } = await jobMoney(owner, job.id, NOW);
    expect(balance.paidMinor).toBe(1000);
    expect(payments.map(({ amountMinor }) => amountMinor).sort((a, b) => a - b)).toEqual([
      -10_000, 1000, 10_000,
    ]);
    const back = payments.find(({ correctsId }) => correctsId === wrong?.id);
    expect(payments.find(({ id }) => id === wrong?.id)?.takenBackById).toBe(back?.id);
    await expect(
      correctPayment(
        desk,
        { paymentId: back?.id ?? "", reason: "x", idempotencyKey: key(), instead: null },
        NOW,
      ),
    ).rejects.toMatchObject({ code: "conflict" });
  });

  it("stay where money went back meanwhile, and are refused for tomorrow and for nothing", async () => {
    const job = await createJob(owner);
    await pay(job.id, 500);
    await pay(job.id, 400, true);
    const first = (await jobMoney(owner, job.id, NOW)).payments.find(
      ({ amountMinor }) => amountMinor > 0,
    );
    await expect(
      correctPayment(
        desk,
        { paymentId: first?.id ?? "", reason: "x", idempotencyKey: key(), instead: null },
        NOW,
      ),
    ).rejects.toMatchObject({ code: "conflict" });
    await expect(pay(job.id, 0)).rejects.toMatchObject({ code: "invalid" });
    await expect(pay(job.id, 0.5)).rejects.toMatchObject({ code: "invalid" });
    const tomorrow = {
      jobId: job.id,
      amountMinor: 5,
      refund: false,
      receivedOn: new Date("2030-01-08T00:00:00Z"),
      method: "CASH",
      reference: "",
      note: "",
      idempotencyKey: key(),
    } as const;
    await expect(recordPayment(desk, tomorrow, NOW)).rejects.toMatchObject({
      fields: { receivedOn: "Choose today or an earlier day." },
    });
    await expect(
      recordPayment(bench, { ...tomorrow, receivedOn: TODAY }, NOW),
    ).rejects.toMatchObject({ code: "not-allowed" });
  });
});

describe("who owes what", () => {
  it("lists what is owed as it adds up in SQL, the longest overdue first, and as a file", async () => {
    const { job } = await doneJob();
    await issue(job.id);
    const now = later(50);
    const first = await openBalances(owner, 1, now);
    const rows = [];
    for (let page = 1; page <= first.page.pages; page += 1) {
      rows.push(...(await openBalances(owner, page, now)).page.rows);
    }
    expect(rows).toHaveLength(first.page.total);
    const mine = rows.find(({ jobId }) => jobId === job.id);
    expect(mine).toMatchObject({ daysOverdue: 36, paidMinor: 0 });
    const owed = rows.filter(({ balanceMinor }) => balanceMinor > 0);
    expect(owed.reduce((all, { balanceMinor }) => all + balanceMinor, 0)).toBe(first.owedMinor);
    expect(first.ages.find(({ age }) => age === "31 to 60 days")?.owedMinor).toBe(first.owedMinor);
    const due = owed.map(({ dueOn }) => dueOn.getTime());
    expect(due).toEqual([...due].sort((a, b) => a - b));
    for (const { jobId, balanceMinor } of rows.slice(0, 5)) {
      expect((await jobMoney(owner, jobId, now)).balance.balanceMinor).toBe(balanceMinor);
    }
    const file = new TextDecoder().decode((await openBalancesFile(owner, now)).bytes);
    expect(file.trim().split("\r\n")).toHaveLength(rows.length + 1);

    await pay(job.id, mine?.balanceMinor ?? 0);
    expect((await openBalances(owner, 1, now)).page.total).toBe(first.page.total - 1);
    expect(await jobOwes(desk, job.id, now)).toMatchObject({ balanceMinor: 0, daysOverdue: 0 });
  });
});
