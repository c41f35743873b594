import { describe, expect, it } from "vitest";
import type { FieldFindings, FieldSubject, InnerAnodeFound } from "@/lib/treatment";
import { bathWith, hangable, MIDDLE } from "./hung";

const part = {
  shape: "BOX",
  ...{ lengthMm: 420, widthMm: 200, heightMm: 180, wallMm: 1.2 },
};
const chosen = {
  tank: {
    shape: {
      kind: "TAPERED_BOX",
      ...{ topLengthMm: 800, topWidthMm: 520, bottomLengthMm: 720, bottomWidthMm: 440 },
      depthMm: 420,
    },
    anode: { areaM2: 0.4, lossFactor: 0.15 },
    clearanceMm: 30,
  },
  fit: { lie: { kind: "WHOLE", along: 420, across: 200, up: 180 } },
  levelMm: 360,
};
/** What these functions look at of a planned part. */
const subject = { part, chosen } as unknown as FieldSubject;

describe("what hangs inside a part", () => {
  it("is a plain rod where the plan has tried nothing", () => {
    const [rod, ...others] = hangable(subject, null);
    expect(others).toEqual([]);
    expect(rod?.words).toBe("A rod of {12 mm} upright in the middle");
    const plate = { ...subject, part: { ...subject.part, shape: "PLATE" as const } };
    expect(hangable(plate, null)).toEqual([]);
  });

  it("is what the plan found, and nothing where that found nothing to help", () => {
    const found = {
      words: "Two rods of {8 mm}",
      form: { kind: "RODS", rods: [], radiusM: 0.004 },
    } as unknown as InnerAnodeFound;
    expect(
      hangable(subject, { innerAnodes: [found] } as unknown as FieldFindings)[0],
    ).toMatchObject({ words: "Two rods of {8 mm}", found });
    expect(hangable(subject, { innerAnodes: [] } as unknown as FieldFindings)).toEqual([]);
  });

  it("goes where the part goes", () => {
    const [rod] = hangable(subject, null);
    const at = (alongMm: number, acrossMm: number) =>
      bathWith(subject, { alongMm, acrossMm }, rod?.form ?? null);
    const [here, there] = [at(0, 0), at(30, -20)].map(({ anodes }) => anodes[1]?.form);
    if (here?.kind !== "ROD" || there?.kind !== "ROD") throw new Error("no rod hangs");
    for (const end of ["from", "to"] as const) {
      expect(there[end][0] - here[end][0]).toBeCloseTo(0.03, 9);
      expect(there[end][1] - here[end][1]).toBeCloseTo(-0.02, 9);
      expect(there[end][2]).toBe(here[end][2]);
    }
    expect(bathWith(subject, MIDDLE, null).anodes).toHaveLength(1);
  });

  it("is moved aside in the part, which stays", () => {
    const [rod] = hangable(subject, null);
    const form = rod?.form ?? null;
    const aside = { alongMm: 50, acrossMm: -10 };
    const [found, moved] = [undefined, aside].map((by) => bathWith(subject, MIDDLE, form, by));
    const [here, there] = [found, moved].map((bath) => bath?.anodes[1]?.form);
    if (here?.kind !== "ROD" || there?.kind !== "ROD") throw new Error("no rod hangs");
    expect(there.from[0] - here.from[0]).toBeCloseTo(0.05, 9);
    expect(there.from[1] - here.from[1]).toBeCloseTo(-0.01, 9);
    expect(moved?.parts).toEqual(found?.parts);
  });

  it("may be a sheet", () => {
    const sheet = {
      kind: "SHEET",
      least: [-0.1, -0.001, 0.2],
      most: [0.1, 0.001, 0.3],
    } as const;
    const { anodes } = bathWith(subject, { alongMm: 10, acrossMm: 0 }, sheet);
    expect(anodes[1]?.form).toMatchObject({
      kind: "PLATE",
      least: [expect.closeTo(-0.09, 9), -0.001, 0.2],
    });
  });
});
