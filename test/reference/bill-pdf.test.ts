/** Statements and credit notes read back by an independent PDF reader, pdf.js. */
import { describe, expect, it } from "vitest";
import { type BillDocument, billPdf } from "@/lib/documents";
import { expectApart, expectInside, readPdf, rolesWithContent } from "../support/printed";

/** ms: each file is laid out with real fonts and parsed again. */
const SLOW = 120_000;

function bill(count: number, changes: Partial<BillDocument> = {}): BillDocument {
  return {
    kind: "statement",
    number: 12,
    jobNumber: 42,
    of: null,
    shop: {
      name: "Hollow Lane Ironworks",
      address: "4 Hollow Lane\nBewdley",
      email: "hello@hollowlane.example",
      phone: "+44 1562 496 0123",
    },
    shopTaxNumber: "XX 123 4567 89",
    customer: { name: "Agnieszka Wójcik", address: "12 Mill Street" },
    date: "7 January 2030",
    dueOn: "21 January 2030",
    currency: "EUR",
    locale: "en-GB",
    lines: Array.from({ length: count }, (_, index) => ({
      label: `Hinge ${index + 1}`,
      detail: "Rust off",
      netMinor: 7125,
      taxMinor: 1425,
    })),
    taxes: [{ name: "VAT", percent: 20, baseMinor: 7125 * count, taxMinor: 1425 * count }],
    netMinor: 7125 * count,
    taxMinor: 1425 * count,
    totalMinor: 8550 * count,
    paid: [{ words: "Paid 2 January 2030, cash", amountMinor: 5000 }],
    paidMinor: 5000,
    reason: "",
    terms: "Within 14 days.\n\nTo account 00 1234.",
    madeAt: new Date("2030-01-07T08:00:00Z"),
    ...changes,
  };
}

describe("a statement", { timeout: SLOW }, () => {
  it("says who, what, the tax by rate, what was paid and what is left", async () => {
    const { text, pdf } = await readPdf(
      await billPdf(
        bill(2, {
          taxes: [
            { name: "GST", percent: 5, baseMinor: 14_250, taxMinor: 950 },
            { name: "PST", percent: 7.5, baseMinor: 14_250, taxMinor: 1900 },
          ],
        }),
      ),
    );
    for (const expected of [
      "Hollow Lane Ironworks",
      "Statement 12",
      "Agnieszka Wójcik",
      "21 January 2030",
      "XX 123 4567 89",
      "€71.25",
      "€14.25",
      "€85.50",
      "GST, 5 % of €142.50",
      "PST, 7.5 % of €142.50",
      "€171.00",
      "Paid 2 January 2030, cash",
      "-€50.00",
      "Balance due",
      "€121.00",
      "To account 00 1234.",
      "Page 1 of 1",
    ]) {
      expect(text).toContain(expected);
    }
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: "Statement 12, Hollow Lane Ironworks", Language: "en" });
  });

  it("says what goes back where more was paid", async () => {
    const { text } = await readPdf(await billPdf(bill(1, { paidMinor: 10_000 })));
    expect(text).toContain("Due back to you");
    expect(text).toContain("€14.50");
    expect(text).not.toContain("Balance due");
  });

  it("is structured for a screen reader, and embeds what it is set in", async () => {
    const bytes = await billPdf(bill(30));
    const { pages, texts, text } = await readPdf(bytes);
    const roles = (await Promise.all(pages.map((page) => page.getStructTree()))).flatMap(
      rolesWithContent,
    );
    const count = (role: string) => roles.filter((found) => found === role).length;
    expect(count("H1")).toBe(1);
    expect(count("H2")).toBe(2);
    expect(count("TH")).toBe(4);
    expect(count("TD")).toBe(4 * 30 + 2 * 5);
    expect(pages.length).toBeGreaterThan(1);
    expect(text.match(/€85\.50/g)).toHaveLength(30);
    texts.forEach((page, index) => expect(page).toContain(`Page ${index + 1} of ${texts.length}`));
    expect(texts[1]).toContain("For (continued)");
    expect(Buffer.from(bytes).toString("latin1")).toContain("/FontFile2");
  });

  it("keeps all text inside the page and no text over another, whatever the names", async () => {
    const long = "Donaudampfschifffahrtsgesellschaft".repeat(12);
    const { pieces } = await readPdf(
      await billPdf(
        bill(3, {
          shop: { name: long, address: long, email: long, phone: long },
          shopTaxNumber: long,
          customer: { name: long, address: long },
          date: long,
          dueOn: long,
          terms: long,
          taxes: [{ name: long, percent: 20, baseMinor: 9_007_199_254, taxMinor: 4275 }],
          paid: [{ words: long, amountMinor: 9_007_199_254 }],
        }),
      ),
    );
    for (const page of pieces) {
      expectInside(page);
      expectApart(page);
    }
  });

  it("gives the same bytes for the same data", async () => {
    expect(await billPdf(bill(2))).toEqual(await billPdf(bill(2)));
  });
});

describe("a credit note", { timeout: SLOW }, () => {
  it("names the statement it is of, and why", async () => {
    const { text, pdf } = await readPdf(
      await billPdf(
        bill(1, {
          kind: "credit note",
          number: 3,
          of: { number: 12, date: "7 January 2030" },
          dueOn: null,
          reason: "The hinge broke.",
          paid: [],
          paidMinor: 0,
          terms: "",
        }),
      ),
    );
    for (const expected of [
      "Credit note 3",
      "statement 12 of 7 January 2030",
      "Why: The hinge broke.",
      "What is credited",
      "Credited",
      "€85.50",
    ]) {
      expect(text).toContain(expected);
    }
    expect(text).not.toContain("Balance due");
    expect(text).not.toContain("To be paid by");
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: "Credit note 3, Hollow Lane Ironworks" });
  });
});
