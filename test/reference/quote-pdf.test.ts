/** Documents read back by an independent PDF reader, pdf.js. */
import { describe, expect, it } from "vitest";
import {
  partTagPdf,
  quotePdf,
  type QuoteDocument,
  type QuoteDocumentOption,
} from "@/lib/documents";
import { expectApart, expectInside, readPdf, rolesWithContent } from "../support/printed";

const madeAt = new Date("2030-01-07T08:00:00Z");

/** ms: each file is laid out with real fonts and parsed again. */
const SLOW = 120_000;

const letters = (index: number) => String.fromCharCode(65 + index);

const indices = (count: number) => Array.from({ length: count }, (_, index) => index);

function option(count: number, changes: Partial<QuoteDocumentOption> = {}): QuoteDocumentOption {
  return {
    name: "As planned",
    rush: false,
    parts: indices(count).map((index) => ({
      mark: letters(index),
      description: `hinge ${index + 1}`,
      quantity: index + 1,
      work: "Rust off, brushed, dried and oiled.",
      hours: "3 to 6 h in the bath",
      cautions: ["Old paint may hold lead."],
    })),
    lines: indices(count).map((index) => ({
      label: `${letters(index)}: hinge ${index + 1}`,
      detail: "Rust off",
      amountMinor: 7125,
    })),
    netMinor: 7125 * count,
    pricesIncludeTax: false,
    taxes: [{ name: "VAT", percent: 20, baseMinor: 7125 * count, taxMinor: 1425 * count }],
    totalMinor: 8550 * count,
    lowMinor: 7000 * count,
    highMinor: 9900 * count,
    depositMinor: 2565 * count,
    ...changes,
  };
}

function quote(count: number, changes: Partial<QuoteDocument> = {}): QuoteDocument {
  return {
    shop: {
      name: "Hollow Lane Ironworks",
      address: "4 Hollow Lane\nBewdley",
      email: "hello@hollowlane.example",
      phone: "+44 1562 496 0123",
    },
    customer: { name: "Agnieszka Wójcik", address: "12 Mill Street" },
    quoteNumber: 17,
    version: 2,
    jobNumber: 42,
    date: "7 January 2030",
    validUntil: "6 February 2030",
    promisedFor: "21 January 2030",
    currency: "EUR",
    locale: "en-GB",
    message: "The strap has a crack, which we leave as it is.",
    options: [option(count)],
    accepted: null,
    terms: "Payment is due on collection.",
    cautions: ["Local rules come first."],
    acceptLink: "https://hollowlane.example/q/abc",
    madeAt,
    ...changes,
  };
}

/** Three ways with prices of their own: strip is dearer, rush dearer still. */
const threeWays = (count = 2) => [
  option(count),
  option(count, { name: "Strip and protect", totalMinor: 12_000, depositMinor: 3600 }),
  option(count, { name: "Rush", rush: true, totalMinor: 15_000, depositMinor: 4500 }),
];

const longOption = (long: string): QuoteDocumentOption =>
  option(1, {
    taxes: [{ name: long, percent: 20, baseMinor: 7125, taxMinor: 1425 }],
    totalMinor: Number.MAX_SAFE_INTEGER,
    highMinor: Number.MAX_SAFE_INTEGER,
    parts: [
      {
        mark: "ABCDEFGH",
        description: long,
        quantity: 1,
        work: long,
        hours: long,
        cautions: [long],
      },
    ],
    lines: [{ label: long.repeat(12), detail: long, amountMinor: Number.MAX_SAFE_INTEGER }],
  });

describe("a quote", { timeout: SLOW }, () => {
  it("says everything that it was given", async () => {
    const { text, pdf } = await readPdf(await quotePdf(quote(2)));
    for (const expected of [
      "Hollow Lane Ironworks",
      "Bewdley",
      "Agnieszka Wójcik",
      "Quote 17",
      "42",
      "6 February 2030",
      "21 January 2030",
      "2 × hinge 2",
      "3 to 6 h in the bath",
      "Note: Old paint may hold lead.",
      "€71.25",
      "VAT, 20 %",
      "€28.50",
      "€171.00",
      "Deposit before work begins: €51.30",
      "Payment is due on collection.",
      "https://hollowlane.example/q/abc",
    ]) {
      expect(text).toContain(expected);
    }
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: "Quote 17, Hollow Lane Ironworks", Language: "en" });
  });

  it("writes amounts with any sign", async () => {
    const signs: readonly (readonly [string, string, RegExp])[] = [
      ["GBP", "en-GB", /£71\.25/],
      ["PLN", "pl-PL", /71,25\szł/u],
      ["INR", "en-IN", /₹71\.25/],
      ["TRY", "tr-TR", /₺71,25/],
      ["ILS", "he-IL", /71\.25\s₪/u],
      ["JPY", "ja-JP", /¥7,125/u],
    ];
    for (const [currency, locale, expected] of signs) {
      const { text } = await readPdf(await quotePdf(quote(1, { currency, locale })));
      expect(text).toMatch(expected);
    }
  });

  it("goes on over pages with the table's head again and every page numbered", async () => {
    const { texts } = await readPdf(await quotePdf(quote(40)));
    expect(texts.length).toBeGreaterThan(3);
    texts.forEach((text, index) => {
      expect(text).toContain(`Page ${index + 1} of ${texts.length}`);
    });
    const priced = texts.filter((text) => text.includes("€71.25"));
    expect(priced.length).toBeGreaterThan(1);
    for (const text of priced.slice(1)) expect(text).toContain("For (continued)");
    expect(texts.join("\n").match(/€71\.25/g)).toHaveLength(40);
  });

  it.each([
    [["1"], false],
    [["1", "2", "3"], true],
    [["1", "2", "3", "4"], false],
  ])(
    "keeps all text inside the page, on US Letter too, whatever the names: %j",
    async (ways, accepted) => {
      const long = "Donaudampfschifffahrtsgesellschaft".repeat(12);
      const { pieces } = await readPdf(
        await quotePdf(
          quote(3, {
            shop: { name: long, address: long, email: long, phone: long },
            customer: { name: long, address: long },
            message: long,
            date: long,
            acceptLink: `https://hollowlane.example/q/${long}`,
            options: ways.map((way) => ({ ...longOption(long), name: `${way}${long}` })),
            accepted: accepted ? { name: long, when: long, option: long } : null,
            terms: long.repeat(10),
          }),
        ),
      );
      expectInside(pieces.flat());
    },
  );

  it.each([
    ["one way", quote(12)],
    ["three ways", quote(5, { options: threeWays(5) })],
    [
      "an accepted one",
      quote(2, {
        options: threeWays(),
        accepted: { name: "Agnieszka Wójcik", when: "9 January 2030, 10:05", option: "Rush" },
      }),
    ],
  ])("prints no text over another: %s", async (_, printed) => {
    const { pieces } = await readPdf(await quotePdf(printed));
    for (const page of pieces) expectApart(page);
  });

  it("is structured for a screen reader: headings, a table of rows and cells, a link", async () => {
    const { pages } = await readPdf(await quotePdf(quote(30)));
    const trees = await Promise.all(pages.map((page) => page.getStructTree()));
    const roles = trees.flatMap(rolesWithContent);
    const count = (role: string) => roles.filter((found) => found === role).length;
    expect(count("H1")).toBe(1);
    expect(count("H3")).toBe(30);
    // Two heads of columns; net, tax and total each head their row.
    expect(count("TH")).toBe(2 + 3);
    expect(count("TD")).toBe(2 * 30 + 3);
    expect(count("Link")).toBe(1);
    const links = (await Promise.all(pages.map((page) => page.getAnnotations()))).flat();
    expect(links.map((link: { url?: string }) => link.url)).toEqual([
      "https://hollowlane.example/q/abc",
    ]);
  });
});

describe("a quote of several ways", { timeout: SLOW }, () => {
  it("sets up to three side by side, each with its total, range and deposit", async () => {
    const { pieces, text } = await readPdf(await quotePdf(quote(2, { options: threeWays() })));
    expect(text).toContain("Choose one of 3 ways");
    const [page = []] = pieces;
    const leftOf = (words: string) => page.filter(({ text: found }) => found === words);
    const [planned, strip, rush] = ["As planned", "Strip and protect", "Rush"].map(
      (name) => leftOf(name)[0],
    );
    // One row, three columns, from left to right; each total stands in the column of its name.
    expect(new Set([planned?.y, strip?.y, rush?.y]).size).toBe(1);
    expect(planned?.left).toBeLessThan(strip?.left ?? 0);
    expect(strip?.left).toBeLessThan(rush?.left ?? 0);
    expect(leftOf("€120.00")[0]?.left).toBeCloseTo(strip?.left ?? 0, 0);
    expect(leftOf("€150.00")[0]?.left).toBeCloseTo(rush?.left ?? 0, 0);
    expect(leftOf("€36.00")[0]?.left).toBeCloseTo(strip?.left ?? 0, 0);
    for (const expected of ["€140.00 to €198.00", "Strip and protect: price", "tick one way"]) {
      expect(text).toContain(expected);
    }
  });

  it("tells four one below the other", async () => {
    const options = [...threeWays(), option(2, { name: "Overnight", totalMinor: 20_000 })];
    const { text } = await readPdf(await quotePdf(quote(2, { options })));
    expect(text).toContain("4. Overnight: €200.00 with tax");
    expect(text).toContain("Overnight: price");
    expect(text).toContain("The same as under “As planned”.");
    expect(text.match(/Deposit before work begins/g)).toHaveLength(4);
    expect(text).not.toContain("What differs");
  });

  it("names the head of each column and row for a screen reader", async () => {
    const bytes = await quotePdf(quote(2, { options: threeWays() }));
    const { pages } = await readPdf(bytes);
    const trees = await Promise.all(pages.map((page) => page.getStructTree()));
    const heads = trees.flatMap(rolesWithContent).filter((role) => role === "TH").length;
    const raw = Buffer.from(bytes).toString("latin1");
    const scoped = (scope: string) =>
      raw.match(new RegExp(`/Scope /${scope}\\b`, "g"))?.length ?? 0;
    // Compared: a head over the labels and three over the ways; then two over each price table.
    expect(scoped("Column")).toBe(4 + 3 * 2);
    // Compared: 2 parts, rush, net, tax, total, hours, deposit; then net, tax and total of each.
    expect(scoped("Row")).toBe(8 + 3 * 3);
    expect(heads).toBe(scoped("Column") + scoped("Row"));
  });

  it("says who accepted which way and when, and asks for no signature any more", async () => {
    const accepted = { name: "Agnieszka Wójcik", when: "9 January 2030, 10:05", option: "Rush" };
    const { text } = await readPdf(await quotePdf(quote(1, { options: threeWays(1), accepted })));
    expect(text).toContain("“Rush” accepted by Agnieszka Wójcik, 9 January 2030, 10:05.");
    expect(text).not.toContain("Signature");
  });
});

describe("a sheet of tags", { timeout: SLOW }, () => {
  it("says whose part it is and on what conditions, and never drops one in silence", async () => {
    const tag = {
      jobNumber: 42,
      mark: "B",
      description: "gate hinge",
      quantity: 2,
      customerName: "Agnieszka Wójcik",
      verdict: "May go in, with conditions",
      conditions: ["Relief bake within 4 h."],
      promisedFor: "Mon 21 Jan",
    };
    const many = Array.from({ length: 20 }, (_, index) => `Condition ${index + 1}.`);
    const { text } = await readPdf(
      await partTagPdf({
        shopName: "Hollow Lane Ironworks",
        tags: [tag, { ...tag, mark: "C", conditions: many }],
        madeAt,
      }),
    );
    for (const expected of ["42", "B", "2 × gate hinge", "Agnieszka Wójcik, ready Mon 21 Jan"]) {
      expect(text).toContain(expected);
    }
    expect(text).toContain("• Relief bake within 4 h.");
    expect(text).toContain("… more: read the plan before it goes in.");
    expect(text).not.toContain("Condition 20.");
  });
});
