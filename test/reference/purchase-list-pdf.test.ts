/** The list for a supplier, read back by an independent PDF reader, pdf.js. */
import { getDocument, type PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import { describe, expect, it } from "vitest";
import { type PurchaseListDocument, purchaseListPdf } from "@/lib/documents";

const US_LETTER_HEIGHT = 792;
const A4_HEIGHT = 841.89;
/** What usual printers cannot reach at each edge, points. */
const UNPRINTABLE = 18;
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

async function read(bytes: Uint8Array) {
  const pdf = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const pages: PDFPageProxy[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) pages.push(await pdf.getPage(number));
  const pieces = await Promise.all(
    pages.map(async (page) =>
      (await page.getTextContent()).items.flatMap((item) => {
        if (!("str" in item) || item.str.trim() === "") return [];
        const left = Number(item.transform[4]);
        return [{ text: item.str, left, right: left + item.width, y: Number(item.transform[5]) }];
      }),
    ),
  );
  const texts = pieces.map((page) => page.map(({ text }) => text).join("\n"));
  return { pdf, pages, pieces, texts, text: texts.join("\n") };
}

type StructureNode = { readonly role?: string; readonly children?: readonly unknown[] };

/** Roles of the elements that hold content. */
function rolesWithContent(node: unknown): readonly string[] {
  const { role, children = [] } = (node ?? {}) as StructureNode;
  const holds = children.some((child) => (child as { type?: string }).type === "content");
  return [...(holds && role ? [role] : []), ...children.flatMap(rolesWithContent)];
}

describe("a list for a supplier", { timeout: SLOW }, () => {
  it("says everything that it was given, and what language it is in", async () => {
    const { text, pdf } = await read(await purchaseListPdf(list(2)));
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
    const { text } = await read(
      await purchaseListPdf(
        list(0, { draft: true, expected: null, note: "", supplier: { name: "", contact: [""] } }),
      ),
    );
    expect(text).toContain("Draft of order 31");
    expect(text).toContain("Supplier not named");
    expect(text).not.toContain("Wanted by");
  });

  it("goes on over pages with the table's head again and every page numbered", async () => {
    const { texts, text } = await read(await purchaseListPdf(list(90)));
    expect(texts.length).toBeGreaterThan(2);
    texts.forEach((page, index) => {
      expect(page).toContain(`Page ${index + 1} of ${texts.length}`);
    });
    for (const page of texts.slice(1, -1)) expect(page).toContain("Item (continued)");
    expect(text.match(/^Thing \d+$/gm)).toHaveLength(90);
  });

  it("keeps all text inside the page and apart, on US Letter too, whatever the names", async () => {
    const long = "Donaudampfschifffahrtsgesellschaft".repeat(12);
    const { pieces } = await read(
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
      for (const [index, a] of page.entries()) {
        expect(a.left).toBeGreaterThan(UNPRINTABLE);
        expect(a.right).toBeLessThan(595.28 - UNPRINTABLE);
        expect(A4_HEIGHT - a.y).toBeGreaterThan(UNPRINTABLE);
        expect(A4_HEIGHT - a.y).toBeLessThan(US_LETTER_HEIGHT - UNPRINTABLE);
        for (const b of page.slice(index + 1)) {
          const apart =
            a.right <= b.left + 0.5 || b.right <= a.left + 0.5 || Math.abs(a.y - b.y) > 5;
          expect(apart ? "apart" : `“${a.text}” over “${b.text}”`).toBe("apart");
        }
      }
    }
  });

  it("is structured for a screen reader: a heading, a table of rows and cells", async () => {
    const { pages } = await read(await purchaseListPdf(list(40)));
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
