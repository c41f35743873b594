import { beforeAll, describe, expect, it } from "vitest";
import { BathField } from "@/lib/field";
import { type Candidate, tryTank } from "./candidate";
import { fieldBath, type FieldSubject, ROD_RADIUS_M } from "./field-bath";
import { type InnerAnode, innerCandidates, innerForms } from "./field-inner";
import { innerArea } from "./inner-area";
import { box, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";

function subjectOf(part: PartDescription): FieldSubject {
  const chosen: Candidate | string = tryTank(tub, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return { part, chosen };
}
function candidatesOf(subject: FieldSubject, cells = 30_000): readonly InnerAnode[] {
  const field = new BathField(fieldBath(subject), cells);
  try {
    return innerCandidates(subject, field);
  } finally {
    field.release();
  }
}

describe("what could be hung in a box that stands", () => {
  const subject = subjectOf(box);
  const levelM = subject.chosen.levelMm / 1000;
  let found: readonly InnerAnode[];
  beforeAll(() => {
    found = candidatesOf(subject);
  });

  it("is a rod upright, two of them, a sheet, and a rod lying", () => {
    const starts = found.map(({ words }) => words.replace(/{[^}]*}/g, "…"));
    expect(starts).toEqual([
      "A rod of …, … long, upright in the middle of the hollow",
      "Two rods of …, … long, upright at the quarters of the hollow",
      "A sheet of …, …, on edge along the hollow",
      "A rod of …, … long, lying along the hollow",
    ]);
    for (const { words } of found) expect(words.replace(/{[^}]*}/g, "")).not.toMatch(/\d|{|}/);
  });

  it("keeps 20 mm from the true walls and floor, and says no more than is true", () => {
    // 420 by 200, 180 high, 1.2 mm of sheet, half-way between floor and level.
    const [along, across] = [0.21 - 0.0012, 0.1 - 0.0012];
    const floor = (levelM - 0.18) / 2 + 0.0012;
    expect(subject.chosen.fit.lie).toMatchObject({ along: 420, across: 200, up: 180 });
    for (const { form, clearanceMm } of found) {
      expect(clearanceMm).toBeGreaterThanOrEqual(20);
      expect(Number.isInteger(clearanceMm)).toBe(true);
      const ends = form.kind === "RODS" ? form.rods : [{ from: form.least, to: form.most }];
      const thick = form.kind === "RODS" ? form.radiusM : 0;
      for (const { from, to } of ends) {
        for (const [x, y, z] of [from, to]) {
          const room = [along - Math.abs(x), across - Math.abs(y), z - floor].map(
            (one) => one - thick,
          );
          expect(Math.min(...room)).toBeGreaterThanOrEqual(clearanceMm / 1000 - 1e-9);
        }
      }
    }
  });

  it("reaches to the level where it comes from above, and no further", () => {
    for (const { form } of found.slice(0, 2)) {
      if (form.kind !== "RODS") throw new Error("rods");
      for (const { from, to } of form.rods) {
        expect(to[2]).toBeCloseTo(levelM - 1e-4, 9);
        expect(to.slice(0, 2)).toEqual(from.slice(0, 2));
      }
    }
    const [, , sheet] = found;
    if (sheet?.form.kind !== "SHEET") throw new Error("a sheet");
    expect(sheet.form.most[2]).toBeCloseTo(levelM - 1e-4, 9);
    expect(sheet.form.most[1] - sheet.form.least[1]).toBeCloseTo(0.002, 9);
  });

  it("has the area and the length that its words and form say", () => {
    for (const { form, words, areaM2 } of found) {
      if (form.kind === "SHEET") {
        const [l, h] = [form.most[0] - form.least[0], form.most[2] - form.least[2]];
        expect(areaM2).toBeCloseTo(2 * l * h, 12);
        expect(innerArea(form)).toBeCloseTo(areaM2, 12);
        expect(words).toContain(`{${Math.round(1000 * l)} × ${Math.round(1000 * h)} mm}`);
        continue;
      }
      const lengths = form.rods.map(({ from, to }) =>
        Math.hypot(...to.map((value, axis) => value - (from[axis] ?? 0))),
      );
      const sum = lengths.reduce((all, length) => all + length, 0);
      expect(areaM2).toBeCloseTo(2 * Math.PI * 0.006 * sum, 12);
      expect(words).toContain("of {12 mm}");
      expect(words).toContain(`{${Math.round((1000 * sum) / lengths.length)} mm} long`);
    }
    const pair = found[1]?.form;
    if (pair?.kind !== "RODS") throw new Error("rods");
    expect(Math.abs((pair.rods[0]?.from[0] ?? 0) - (pair.rods[1]?.from[0] ?? 0))).toBeGreaterThan(
      0.15 - 0.02,
    );
  });

  it("hangs in the field without touching", () => {
    for (const { form } of found) {
      const field = new BathField(fieldBath(subject, undefined, innerForms(form)), 12_000);
      expect(field.shapeLength()).toBeGreaterThan(0);
      field.release();
    }
  });
});

describe("where there is little room", () => {
  it("is nothing in an open casting, or a dish too flat to hang anything in", () => {
    expect(candidatesOf(subjectOf(casting))).toEqual([]);
    const dish: PartDescription = { ...box, heightMm: 45 };
    expect(candidatesOf(subjectOf(dish))).toEqual([]);
  });

  it("is a rod lying, none upright, in a dish of which an upright one would be in by a thumb's width", () => {
    const found = candidatesOf(subjectOf({ ...box, heightMm: 60 }));
    expect(found.map(({ words }) => words.replace(/{[^}]*}/g, "…"))).toEqual([
      "A rod of …, … long, lying along the hollow",
    ]);
  });

  it("is a rod lying in a tube, which takes none from above", () => {
    const tube: PartDescription = {
      ...box,
      ...{ shape: "TUBE", lengthMm: 420, widthMm: 150, heightMm: 150, wallMm: 4 },
    };
    const found = candidatesOf(subjectOf(tube), 60_000);
    expect(found).toHaveLength(1);
    expect(found[0]?.words).toContain("lying along the hollow");
    expect(found[0]?.clearanceMm).toBeLessThan(71 - 6 + 1e-9);
    expect(found[0]?.clearanceMm).toBeGreaterThanOrEqual(20);
  });

  it("is one rod, no pair and no sheet, in a hollow too short for two", () => {
    const short: PartDescription = { ...box, lengthMm: 220, widthMm: 200 };
    const kinds = candidatesOf(subjectOf(short)).map(({ words }) => words.split(" of ")[0]);
    expect(kinds).toContain("A rod");
    expect(kinds).not.toContain("Two rods");
    expect(kinds).not.toContain("A sheet");
  });
});

describe("as the field takes it", () => {
  it("is rods of their radius, or a plate", () => {
    const rods = [
      { from: [0, 0, 0.1], to: [0, 0, 0.3] },
      { from: [0.1, 0, 0.1], to: [0.1, 0, 0.3] },
    ] as const;
    expect(innerForms({ kind: "RODS", rods, radiusM: ROD_RADIUS_M })).toEqual(
      rods.map((rod) => ({ kind: "ROD", ...rod, radiusM: 0.006 })),
    );
    const [least, most] = [[-0.1, -0.001, 0.1] as const, [0.1, 0.001, 0.3] as const];
    expect(innerForms({ kind: "SHEET", least, most })).toEqual([{ kind: "PLATE", least, most }]);
  });
});
