/** The list for a supplier, read back by an independent PDF reader, pdf.js. */
import { describe, expect, it } from "vitest";
import { type PurchaseListDocument, purchaseListPdf } from "@/lib/documents";
import { expectApart, expectInside, readPdf, rolesWithContent } from "../support/printed";

/** ms: each file is laid out with real fonts and parsed again. */
const SLOW = 120_000;

function list(count: number, changes: Partial<PurchaseListDocument> = {}): PurchaseListDocument {
  return {
    shop: {
      name: "Hollow Lane Ironworks",
      address: "4 Hollow Lane\nBewdley",
      email: "hello@hollowlane.example",
      phone: "+44 1562 496 0123",
    },
    supplier: { name: "Kwaśny & Söhne", contact: ["orders@kwasny.example", "customer 4711"] },
    number: 31,
    date: "7 January 2030",
    expected: "14 January 2030",
    draft: false,
    lines: Array.from({ length: count }, (_, index) => ({
      item: `Thing ${index + 1}`,
      packs: `${index + 1} × 25 kg`,
      amount: `${25 * (index + 1)} kg`,
    })),
    note: "To the back door, please.",
    madeAt: new Date("2030-01-07T08:00:00Z"),
    ...changes,
  };
}

describe("a list for a supplier", { timeout: SLOW }, () => {
  it("says everything that it was given, and what language it is in", async () => {
    const { text, pdf } = await readPdf(await purchaseListPdf(list(2)));
    for (const expected of [
      "Hollow Lane Ironworks",
      "Bewdley",
      "Kwaśny & Söhne",
      "orders@kwasny.example",
      "customer 4711",
      "Order 31",
      "7 January 2030",
      "14 January 2030",
      "Thing 2",
      "2 × 25 kg",
      "50 kg",
      "To the back door, please.",
    ]) {
      expect(text).toContain(expected);
    }
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: "Order 31, Hollow Lane Ironworks", Language: "en" });
  });

  it("says that a draft is one, and copes with nobody and nothing", async () => {
    const { text } = await readPdf(
      await purchaseListPdf(
        list(0, { draft: true, expected: null, note: "", supplier: { name: "", contact: [""] } }),
      ),
    );
    expect(text).toContain("Draft of order 31");
    expect(text).toContain("Supplier not named");
    expect(text).not.toContain("Wanted by");
  });

  it("goes on over pages with the table's head again and every page numbered", async () => {
    const { texts, text } = await readPdf(await purchaseListPdf(list(90)));
    expect(texts.length).toBeGreaterThan(2);
    texts.forEach((page, index) => {
      expect(page).toContain(`Page ${index + 1} of ${texts.length}`);
    });
    for (const page of texts.slice(1, -1)) expect(page).toContain("Item (continued)");
    expect(text.match(/^Thing \d+$/gm)).toHaveLength(90);
  });

  it("keeps all text inside the page and apart, on US Letter too, whatever the names", async () => {
    const long = "Donaudampfschifffahrtsgesellschaft".repeat(12);
    const { pieces } = await readPdf(
      await purchaseListPdf(
        list(3, {
          shop: { name: long, address: long, email: long, phone: long },
          supplier: { name: long, contact: [long, long, long] },
          date: long,
          lines: [1, 2, 3].map(() => ({ item: long, packs: long, amount: long })),
          note: long.repeat(20),
        }),
      ),
    );
    for (const page of pieces) {
      expectInside(page);
      expectApart(page);
    }
  });

  it("is structured for a screen reader: a heading, a table of rows and cells", async () => {
    const { pages } = await readPdf(await purchaseListPdf(list(40)));
    const trees = await Promise.all(pages.map((page) => page.getStructTree()));
    const roles = trees.flatMap(rolesWithContent);
    const count = (role: string) => roles.filter((found) => found === role).length;
    expect(count("H1")).toBe(1);
    expect(count("TH")).toBe(3);
    expect(count("TD")).toBe(3 * 40);
  });

  it("is the same bytes for the same list", async () => {
    const [one, other] = await Promise.all([purchaseListPdf(list(3)), purchaseListPdf(list(3))]);
    expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true);
  });
});
