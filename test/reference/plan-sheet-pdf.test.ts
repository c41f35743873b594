/** The plan for the bench read back by an independent PDF reader, pdf.js. */
import { describe, expect, it } from "vitest";
import { planSheetPdf, type PlanSheet } from "@/lib/documents";
import { HOURS_INKS } from "@/lib/documents/plan-sheet-field";
import { expectApart, expectInside, readPdf } from "../support/printed";

/** ms: each file is laid out with real fonts and parsed again. */
const SLOW = 120_000;

const square = (x: number, y: number) => [x, y, x + 1, y, x + 1, y + 1, x, y + 1];

function plan(changes: Partial<PlanSheet> = {}): PlanSheet {
  return {
    shopName: "Hollow Lane Ironworks",
    jobNumber: 42,
    mark: "B",
    description: "Tool box of thin sheet",
    customerName: "Agnieszka Wójcik",
    made: "version 2, Dara Finch, 7 January 2030",
    notices: [],
    answer: "Blue tub: about 6 h, nine in ten within 11 h",
    facts: [
      { label: "How it lies", value: "Level, its length along the tank." },
      { label: "Level with the part in", value: "362 mm" },
      { label: "Soda ash, light", value: "480 g" },
      { label: "Current", value: "6.8 A, 4.1 to 9.3 A" },
    ],
    cautions: ["Old paint may hold lead. Test it."],
    steps: [
      {
        when: "Before current flows",
        steps: [{ title: "The supply is off.", detail: "A spark over gas.", caution: null }],
      },
      {
        when: "In the bath",
        steps: [{ title: "Hang it", detail: "Clear all round.", caution: "Never stainless." }],
      },
      { when: "After the bath", steps: [] },
    ],
    field: {
      notice: "The figures here are of before the last change.",
      facts: [
        { label: "Hours outside", value: "about 3.4 h" },
        { label: "Hours inside", value: "about 69 h" },
        { label: "Shape length of the cell, error of two grids", value: "3 ± 0.0042 m" },
      ],
      tables: [
        {
          title: "What hung inside helps",
          columns: ["Inner anode", "Clearance", "Hours", "Saves"],
          rows: [["A rod of 12 mm upright", "83 mm", "about 9 h", "60 h"]],
          note: "Mild steel, never stainless.",
        },
        {
          title: "Wear of the anode by height",
          columns: ["Height over the floor", "Of its mean"],
          rows: [
            ["180 to 360 mm", "1.2 ×"],
            ["0 to 180 mm", "0.8 ×"],
          ],
          note: "",
        },
      ],
      picture: {
        section: {
          width: 4,
          height: 2,
          shapes: [
            { points: square(0, 0), ink: { of: "BATH", step: 0 } },
            { points: square(1, 0), ink: { of: "METAL", step: 0 } },
            { points: square(3, 0), ink: { of: "ANODE", step: 0 } },
          ],
        },
        space: {
          width: 2,
          height: 3,
          shapes: [0, 1, 2, 3, 4].map((step) => ({
            points: square(step % 2, step / 2),
            ink: { of: "HOURS", step },
          })),
        },
        legend: ["clean within 3.3 h", "3.3 to 6.8 h", "6.8 to 14 h", "14 to 28 h", "over 28 h"],
        dry: true,
      },
    },
    madeAt: new Date("2030-01-07T08:00:00Z"),
    ...changes,
  };
}

type Node = {
  readonly role?: string;
  readonly alt?: string;
  readonly children?: readonly unknown[];
};
const nodesOf = (node: unknown): readonly Node[] => {
  const here = (node ?? {}) as Node;
  return [here, ...(here.children ?? []).flatMap(nodesOf)];
};

describe("a plan for the bench", { timeout: SLOW }, () => {
  it("says everything that it was given", async () => {
    const { text, pdf } = await readPdf(await planSheetPdf(plan()));
    for (const expected of [
      "Job 42, part B, Agnieszka Wójcik",
      "Tool box of thin sheet",
      "Blue tub: about 6 h, nine in ten within 11 h",
      "362 mm",
      "480 g",
      "6.8 A, 4.1 to 9.3 A",
      "Note: Old paint may hold lead. Test it.",
      "The supply is off.",
      "Note: Never stainless.",
      "The figures here are of before the last change.",
      "about 69 h",
      "3 ± 0.0042 m",
      "A rod of 12 mm upright",
      "83 mm",
      "180 to 360 mm",
      "1.2 ×",
      "6.8 to 14 h",
      "out of the bath",
    ]) {
      expect(text).toContain(expected);
    }
    expect(text).not.toContain("After the bath");
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: "Plan for the bench, job 42, part B", Language: "en" });
  });

  it("is tagged: headings, tables, and drawings that say what they show", async () => {
    const { pages } = await readPdf(await planSheetPdf(plan()));
    const nodes = (await Promise.all(pages.map((page) => page.getStructTree()))).flatMap(nodesOf);
    const count = (role: string) => nodes.filter((node) => node.role === role).length;
    expect(count("H1")).toBe(1);
    expect(count("Caption")).toBe(2);
    expect(new Set(nodes.map(({ role }) => role))).toContain("TH");
    const figures = nodes.filter(({ role }) => role === "Figure");
    expect(figures).toHaveLength(2);
    expect(figures[1]?.alt).toContain("14 to 28 h, then over 28 h");
  });

  it("gives the same bytes for the same data", async () => {
    const [first, second] = await Promise.all([planSheetPdf(plan()), planSheetPdf(plan())]);
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
  });

  it("shades the hours so that a grey print tells every two steps apart", () => {
    // Relative luminance of sRGB (IEC 61966-2-1), and its L* (CIE 1976): ten steps of L* are seen at a glance.
    const lightness = HOURS_INKS.map((ink) => {
      const [r, g, b] = [1, 3, 5].map((at) => {
        const share = Number.parseInt(ink.slice(at, at + 2), 16) / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 116 * Math.cbrt(0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0)) - 16;
    });
    lightness.slice(1).forEach((darker, step) => {
      expect((lightness[step] ?? 0) - darker).toBeGreaterThan(10);
    });
  });

  it("keeps everything on the page, on US Letter too, and none over another, whatever the words", async () => {
    const long = "Donaudampfschifffahrtsgesellschaft".repeat(12);
    const table = {
      title: "Wear",
      columns: ["Height", "Of its mean", "And"],
      rows: Array.from({ length: 40 }, (_, row) => [`${row} mm`, `${row} ×`, "planned"]),
      note: "",
    };
    const field = plan().field;
    const sheets = [
      plan({
        mark: "ABCDEFGH",
        description: long,
        customerName: long,
        made: long,
        answer: long,
        facts: [{ label: "Tank", value: long }],
        cautions: [long],
        steps: [{ when: "Before", steps: [{ title: long, detail: long, caution: long }] }],
      }),
      plan({ field: field && { ...field, tables: [...field.tables, table] } }),
    ];
    for (const sheet of sheets) {
      const { pieces } = await readPdf(await planSheetPdf(sheet));
      for (const page of pieces) {
        expectInside(page);
        expectApart(page);
      }
    }
  });
});
