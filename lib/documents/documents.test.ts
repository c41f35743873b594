import { describe, expect, it } from "vitest";
import {
  partTagPdf,
  quotePdf,
  type PartTag,
  type QuoteDocument,
  type QuoteDocumentOption,
} from "./index";

const madeAt = new Date("2030-01-07T08:00:00Z");

const OPTION: QuoteDocumentOption = {
  name: "As planned",
  rush: false,
  parts: [],
  lines: [{ label: "A: hinge", detail: "", amountMinor: 7125 }],
  netMinor: 7125,
  pricesIncludeTax: false,
  taxes: [{ name: "VAT", percent: 20, baseMinor: 7125, taxMinor: 1425 }],
  totalMinor: 8550,
  lowMinor: 7000,
  highMinor: 9900,
  depositMinor: 0,
};

const QUOTE: QuoteDocument = {
  shop: { name: "Hollow Lane Ironworks", address: "4 Hollow Lane", email: "", phone: "" },
  customer: { name: "A. Wójcik", address: "" },
  quoteNumber: 17,
  version: 1,
  jobNumber: 42,
  date: "7 January 2030",
  validUntil: "6 February 2030",
  promisedFor: null,
  currency: "EUR",
  locale: "en-GB",
  message: "",
  options: [OPTION],
  accepted: null,
  terms: "",
  cautions: [],
  acceptLink: null,
  madeAt,
};

const TAG: PartTag = {
  jobNumber: 42,
  mark: "A",
  description: "Gate hinge",
  quantity: 1,
  customerName: "A. Wójcik",
  verdict: null,
  conditions: [],
  promisedFor: null,
};

const asText = (bytes: Uint8Array) => Buffer.from(bytes).toString("latin1");

describe("quotePdf", { timeout: 60_000 }, () => {
  it("gives the same bytes for the same data", async () => {
    const [first, second] = await Promise.all([quotePdf(QUOTE), quotePdf(QUOTE)]);
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
    const other = await quotePdf({ ...QUOTE, jobNumber: 43 });
    expect(Buffer.from(first).equals(Buffer.from(other))).toBe(false);
  });

  it("is a tagged PDF with its own fonts", async () => {
    const text = asText(await quotePdf(QUOTE));
    expect(text.startsWith("%PDF-1.7")).toBe(true);
    expect(text).toContain("/Marked true");
    expect(text).toMatch(/\/FontName \/[A-Z]{6}\+DejaVuSansCondensed/);
    expect(text).not.toContain("/Helvetica");
  });

  it("refuses an amount that is not whole", async () => {
    const options = [{ ...OPTION, totalMinor: 0.5 }];
    await expect(quotePdf({ ...QUOTE, options })).rejects.toThrow("whole number");
  });
});

describe("quotePdf without an option", () => {
  it("is refused", async () => {
    await expect(quotePdf({ ...QUOTE, options: [] })).rejects.toThrow("at least one option");
  });
});

describe("partTagPdf", { timeout: 60_000 }, () => {
  it("puts eight on a page", async () => {
    const tags = Array.from({ length: 9 }, () => TAG);
    const pagesOf = async (count: number) =>
      asText(
        await partTagPdf({ shopName: "Hollow Lane", tags: tags.slice(0, count), madeAt }),
      ).match(/\/Count (\d+)/)?.[1];
    expect(await pagesOf(8)).toBe("1");
    expect(await pagesOf(9)).toBe("2");
  });

  it("refuses a sheet without tags", async () => {
    await expect(partTagPdf({ shopName: "x", tags: [], madeAt })).rejects.toThrow("at least one");
  });
});
