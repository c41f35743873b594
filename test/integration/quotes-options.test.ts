/** Options side by side: priced for what each would do, and what accepting one changes in the shop. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { makePlan } from "@/lib/services/intake";
import {
  acceptQuote,
  draftQuote,
  jobQuotes,
  openQuote,
  type OptionWish,
  sendQuote,
} from "@/lib/services/quotes";
import { createIntakeJob, createPart } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { createReadyTank } from "../support/factories-tanks";

const AS_PLANNED: OptionWish = { name: "As planned", goal: null, rush: false };
const STRIP: OptionWish = { name: "Strip and protect", goal: "STRIP_TO_METAL", rush: false };
const RUSH: OptionWish = { name: "Rush", goal: null, rush: true };
const TERMS = { messageToCustomer: "" };

let owner: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  await createReadyTank();
});

async function paintedJob(coatings: readonly ("OIL_PAINT" | "VARNISH")[] = ["OIL_PAINT"]) {
  const jobId = await createIntakeJob(owner);
  const partId = await createPart(owner, { jobId, coatings: [...coatings] });
  const choice = { partId, goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
  await makePlan(owner, choice, NOW);
  return { jobId, partId };
}

async function offered(options: readonly OptionWish[]) {
  const job = await paintedJob();
  const quoteId = await draftQuote(owner, job.jobId, { ...TERMS, options }, NOW);
  const token = await sendQuote(owner, quoteId, NOW);
  const offer = (await openQuote(token, NOW))?.offer;
  const idOf = (name: string) => offer?.options.find((option) => option.name === name)?.id ?? "";
  return { ...job, quoteId, token, versionId: offer?.versionId ?? "", idOf };
}

const plansOf = (partId: string) => database().plan.findMany({ where: { partId } });

describe("pricing", () => {
  it("prices each option for what it would do, and stores no plan for it", async () => {
    const { jobId, partId } = await paintedJob();
    const before = await plansOf(partId);
    await draftQuote(owner, jobId, { ...TERMS, options: [AS_PLANNED, STRIP, RUSH] }, NOW);
    const [planned, strip, rush] =
      (await jobQuotes(owner, jobId, NOW)).quotes[0]?.versions[0]?.options ?? [];
    if (!planned || !strip || !rush) throw new Error("three options were asked for");
    const hours = (option: typeof planned) => option.stored?.promises[0]?.hoursP50 ?? 0;
    expect(hours(strip)).toBeGreaterThan(hours(planned));
    expect(hours(rush)).toBe(hours(planned));
    expect(strip.totalMinor).toBeGreaterThan(planned.totalMinor);
    // 25 % of the rate card; each line is rounded once.
    expect(Math.abs(rush.netMinor - planned.netMinor * 1.25)).toBeLessThanOrEqual(1);
    expect(strip.stored?.promises[0]?.work).toContain("bare metal");
    expect(strip.stored?.plannedForGoal).toEqual([partId]);
    for (const option of [planned, strip, rush]) {
      expect(option.lowMinor).toBeLessThan(option.totalMinor);
      expect(option.highMinor).toBeGreaterThan(option.totalMinor);
    }
    expect(await plansOf(partId)).toEqual(before);
    const part = await database().part.findUniqueOrThrow({ where: { id: partId } });
    expect(part.goal).toBe("RUST_ONLY");
  });

  it("offers the usual: stripping only where something can be stripped", async () => {
    const names = async (jobId: string) => {
      await draftQuote(owner, jobId, { ...TERMS, options: "usual" }, NOW);
      const [quote] = (await jobQuotes(owner, jobId, NOW)).quotes;
      return quote?.versions[0]?.options.map(({ name }) => name);
    };
    const painted = await paintedJob();
    expect(await names(painted.jobId)).toEqual(["As planned", "Strip and protect", "Rush"]);
    const bare = await paintedJob([]);
    expect(await names(bare.jobId)).toEqual(["As planned", "Rush"]);
  });

  it("takes deposit and tax as chosen, and the customer's own way of being taxed where not", async () => {
    const { jobId } = await paintedJob();
    const customer = { jobs: { some: { id: jobId } } };
    await database().customer.updateMany({ where: customer, data: { taxCode: "none" } });
    const first = { ...TERMS, options: [AS_PLANNED], depositPercent: 30 };
    const optionNow = async () =>
      (await jobQuotes(owner, jobId, NOW)).quotes[0]?.versions[0]?.options[0];
    await draftQuote(owner, jobId, first, NOW);
    const untaxed = await optionNow();
    expect(untaxed?.taxMinor).toBe(0);
    expect(untaxed?.depositMinor).toBe(Math.round((untaxed?.totalMinor ?? 0) * 0.3));
    await draftQuote(owner, jobId, { ...first, taxCode: "standard" }, NOW);
    const taxed = await optionNow();
    expect(taxed?.taxMinor).toBe(Math.round((taxed?.netMinor ?? 0) * 0.19));
    expect(taxed?.lines.every(({ taxCode }) => taxCode === "standard")).toBe(true);
  });

  it("refuses none, five, namesakes, no name, and figures out of range, and keeps nothing", async () => {
    const { jobId } = await paintedJob();
    const five = Array.from({ length: 5 }, (_, index) => ({ ...RUSH, name: `Way ${index}` }));
    for (const options of [
      [],
      five,
      [RUSH, { ...STRIP, name: " rush " }],
      [{ ...RUSH, name: " " }],
      [{ ...RUSH, name: "x".repeat(61) }],
      [{ ...RUSH, discountPercent: -1 }],
      [{ ...RUSH, discountPercent: Number.NaN }],
    ]) {
      await expect(draftQuote(owner, jobId, { ...TERMS, options }, NOW)).rejects.toMatchObject({
        code: "invalid",
      });
    }
    for (const wrong of [{ depositPercent: 101 }, { taxCode: "luxury" }]) {
      const terms = { ...TERMS, options: [AS_PLANNED], ...wrong };
      await expect(draftQuote(owner, jobId, terms, NOW)).rejects.toMatchObject({
        code: "invalid",
        fields: { [Object.keys(wrong)[0] ?? ""]: expect.any(String) as string },
      });
    }
    expect(await database().quote.count({ where: { jobId } })).toBe(0);
  });
});

describe("accepting one of several", () => {
  it("keeps which, plans the part for it, and leaves the other options unaccepted", async () => {
    const { token, versionId, idOf, partId, jobId } = await offered([AS_PLANNED, STRIP]);
    const optionId = idOf("Strip and protect");
    await acceptQuote(token, { versionId, optionId, name: "Ottilie" }, NOW);
    const version = await database().quoteVersion.findUniqueOrThrow({ where: { id: versionId } });
    expect(version).toMatchObject({ state: "ACCEPTED", acceptedOptionId: optionId });
    const part = await database().part.findUniqueOrThrow({ where: { id: partId } });
    expect(part.goal).toBe("STRIP_TO_METAL");
    const plans = await plansOf(partId);
    expect(plans.map(({ version: number }) => number).sort()).toEqual([1, 2]);
    const job = await database().job.findUniqueOrThrow({ where: { id: jobId } });
    expect(job.rush).toBe(false);
    const opened = await openQuote(token, NOW);
    expect(opened?.offer?.acceptedOptionId).toBe(optionId);
  });

  it("makes the job rush with a rush option, and changes no plan", async () => {
    const { token, versionId, idOf, partId, jobId } = await offered([AS_PLANNED, RUSH]);
    await acceptQuote(token, { versionId, optionId: idOf("Rush"), name: "Ottilie" }, NOW);
    const job = await database().job.findUniqueOrThrow({ where: { id: jobId } });
    expect(job.rush).toBe(true);
    expect(await plansOf(partId)).toHaveLength(1);
  });

  it("leaves a booking as it is and tells the shop to look at it", async () => {
    const { token, versionId, idOf, partId, quoteId } = await offered([AS_PLANNED, STRIP]);
    await database().part.update({ where: { id: partId }, data: { state: "BOOKED" } });
    const answer = { versionId, optionId: idOf("Strip and protect"), name: "Ottilie" };
    await acceptQuote(token, answer, NOW);
    const note = await database().auditEntry.findFirstOrThrow({
      where: { subjectId: quoteId, action: "quote.taken-on" },
    });
    expect(note.detail).toMatchObject({ planned: "A", booked: "A", left: "" });
    const part = await database().part.findUniqueOrThrow({ where: { id: partId } });
    expect(part).toMatchObject({ state: "BOOKED", goal: "STRIP_TO_METAL" });
  });

  it("does not replan what is in the bath already, and says so", async () => {
    const { token, versionId, idOf, partId, quoteId } = await offered([AS_PLANNED, STRIP]);
    await database().part.update({ where: { id: partId }, data: { state: "IN_BATH" } });
    const answer = { versionId, optionId: idOf("Strip and protect"), name: "Ottilie" };
    await acceptQuote(token, answer, NOW);
    expect(await plansOf(partId)).toHaveLength(1);
    const note = await database().auditEntry.findFirstOrThrow({
      where: { subjectId: quoteId, action: "quote.taken-on" },
    });
    expect(note.detail).toMatchObject({ planned: "", left: "A" });
  });

  it("asks which where several are offered, and takes no option of another quote", async () => {
    const mine = await offered([AS_PLANNED, RUSH]);
    const other = await offered([AS_PLANNED, RUSH]);
    const answer = { versionId: mine.versionId, name: "Ottilie" };
    await expect(acceptQuote(mine.token, answer, NOW)).rejects.toMatchObject({
      code: "invalid",
      fields: { optionId: expect.any(String) as string },
    });
    for (const optionId of [other.idOf("Rush"), crypto.randomUUID(), "x"]) {
      await expect(acceptQuote(mine.token, { ...answer, optionId }, NOW)).rejects.toMatchObject({
        code: "not-found",
      });
    }
    const ids = [mine.versionId, other.versionId];
    const sent = { where: { id: { in: ids }, state: "SENT" as const } };
    expect(await database().quoteVersion.count(sent)).toBe(2);
  });

  it("takes the same option twice in peace, and refuses another one afterwards by name", async () => {
    const { token, versionId, idOf } = await offered([AS_PLANNED, STRIP, RUSH]);
    const accept = (name: string) =>
      acceptQuote(token, { versionId, optionId: idOf(name), name: "Ottilie" }, NOW);
    await accept("Rush");
    await accept("Rush");
    await expect(accept("As planned")).rejects.toMatchObject({
      code: "conflict",
      message: expect.stringContaining("“Rush”") as string,
    });
  });

  it("lets exactly one of twelve callers have his option", async () => {
    const { token, versionId, idOf, quoteId, partId } = await offered([AS_PLANNED, STRIP, RUSH]);
    const names = ["As planned", "Strip and protect", "Rush"];
    const answers = await Promise.allSettled(
      Array.from({ length: 12 }, (_, index) => {
        const optionId = idOf(names[index % 3] ?? "");
        return acceptQuote(token, { versionId, optionId, name: "Ottilie" }, NOW);
      }),
    );
    // Four asked for the option that won; the others are told.
    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(4);
    const told = { subjectId: quoteId, action: "quote.accepted" };
    expect(await database().auditEntry.count({ where: told })).toBe(1);
    const version = await database().quoteVersion.findUniqueOrThrow({ where: { id: versionId } });
    const stripped = version.acceptedOptionId === idOf("Strip and protect");
    expect(await plansOf(partId)).toHaveLength(stripped ? 2 : 1);
  });
});
