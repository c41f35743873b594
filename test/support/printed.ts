/** What an independent PDF reader, pdf.js, finds on paper that was made. */
import { getDocument, type PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import { expect } from "vitest";

/** A piece of text with its edges and its base line, points from the lower left corner of the page. */
export type Piece = {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly y: number;
};

async function piecesOf(page: PDFPageProxy): Promise<readonly Piece[]> {
  const { items } = await page.getTextContent();
  return items.flatMap((item) => {
    if (!("str" in item) || item.str.trim() === "") return [];
    const left = Number(item.transform[4]);
    return [{ text: item.str, left, right: left + item.width, y: Number(item.transform[5]) }];
  });
}

/** The file, its pages, their pieces of text, and their text a piece a line. */
export async function readPdf(bytes: Uint8Array) {
  const pdf = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const pages: PDFPageProxy[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) pages.push(await pdf.getPage(number));
  const pieces = await Promise.all(pages.map(piecesOf));
  const texts = pieces.map((page) => page.map(({ text }) => text).join("\n"));
  return { pdf, pages, pieces, texts, text: texts.join("\n") };
}

const A4 = { width: 595.28, height: 841.89 };
const US_LETTER_HEIGHT = 792;
/** What usual printers cannot reach at each edge, points. */
const UNPRINTABLE = 18;

/** Asserts that all text of an A4 page stands where usual printers reach, also when it is printed on US Letter. */
export function expectInside(page: readonly Piece[]): void {
  for (const { left, right, y } of page) {
    expect(left).toBeGreaterThan(UNPRINTABLE);
    expect(right).toBeLessThan(A4.width - UNPRINTABLE);
    expect(A4.height - y).toBeGreaterThan(UNPRINTABLE);
    expect(A4.height - y).toBeLessThan(US_LETTER_HEIGHT - UNPRINTABLE);
  }
}

type StructureNode = { readonly role?: string; readonly children?: readonly unknown[] };

/** Roles of the elements that hold content of this page; a table's tree comes back with each page that it is on. */
export function rolesWithContent(node: unknown): readonly string[] {
  const { role, children = [] } = (node ?? {}) as StructureNode;
  const holds = children.some((child) => (child as { type?: string }).type === "content");
  return [...(holds && role ? [role] : []), ...children.flatMap(rolesWithContent)];
}

/** Asserts that no text of a page is printed over another. */
export function expectApart(page: readonly Piece[]): void {
  for (const [index, a] of page.entries()) {
    for (const b of page.slice(index + 1)) {
      const apart = a.right <= b.left + 0.5 || b.right <= a.left + 0.5 || Math.abs(a.y - b.y) > 5;
      expect(apart ? "apart" : `“${a.text}” over “${b.text}”`).toBe("apart");
    }
  }
}
