import { describe, expect, it } from "vitest";
import { type Bathful, lookAt, type LookOptions } from "@/lib/field";
import { startWhatIf } from "@/lib/treatment";
import { box, bucket, casting, tub, workshop } from "@/lib/treatment/fixtures";
import { drawField } from "./picture";

function subjectOf(part: typeof box, tank = tub) {
  const start = startWhatIf(part, tank, workshop);
  if (typeof start === "string") throw new Error(start);
  return start;
}

/** Area of a polygon, x and y of each corner in turn (shoelace). */
function areaOf(points: readonly number[]): number {
  let twice = 0;
  for (let at = 0; at < points.length; at += 2) {
    const next = (at + 2) % points.length;
    const [x, y] = [points[at] ?? 0, points[at + 1] ?? 0];
    twice += x * (points[next + 1] ?? 0) - (points[next] ?? 0) * y;
  }
  return Math.abs(twice) / 2;
}

describe("the field on paper", () => {
  it("rests on one solution of the bath, small enough for a second and a half", () => {
    const asked: LookOptions[] = [];
    const counted = (bath: Bathful, options: LookOptions) => {
      asked.push(options);
      return lookAt(bath, options);
    };
    drawField(subjectOf(box), null, counted);
    expect(asked).toHaveLength(1);
    expect(asked[0]?.cells).toBeLessThanOrEqual(20_000);
    // Seconds of this process alone, the best of three: a busy machine does not count.
    const seconds = [1, 2, 3].map(() => {
      const before = process.cpuUsage();
      drawField(subjectOf(box), null);
      const { user, system } = process.cpuUsage(before);
      return (user + system) / 1e6;
    });
    expect(Math.min(...seconds)).toBeLessThan(1.5);
  });

  it.each([
    ["a box in a tub", box, tub],
    ["a casting in a round tank", casting, bucket],
  ])("draws %s inside its frame, the part whole", (_what, part, tank) => {
    const { section, space, legend, dry } = drawField(subjectOf(part, tank), null);
    for (const { width, height, shapes } of [section, space]) {
      expect(shapes.length).toBeGreaterThan(10);
      for (const { points } of shapes) {
        points.forEach((value, place) => {
          expect(value).toBeGreaterThanOrEqual(-1e-9);
          expect(value).toBeLessThanOrEqual((place % 2 === 0 ? width : height) + 1e-9);
        });
      }
    }
    const inks = new Set(section.shapes.map(({ ink }) => ink.of));
    expect(inks).toContain("METAL");
    expect(inks).toContain("BATH");
    for (const { ink } of space.shapes) {
      if (ink.of === "HOURS") expect(legend[ink.step]).toBeDefined();
    }
    expect(dry).toBe(false);
  });

  it("cuts a plate where it stands: its metal has the area of its cut", () => {
    const { section } = drawField(subjectOf(casting), null);
    const metal = section.shapes
      .filter(({ ink }) => ink.of === "METAL")
      .reduce((sum, { points }) => sum + areaOf(points), 0);
    const cell = areaOf([0, 0, section.width / 40, 0, section.width / 40, 0.0225, 0, 0.0225]);
    // 250 by 45 mm seen from the side, by whole cells of some 20 mm: within a ring of them all round.
    expect(metal).toBeGreaterThan(0.25 * 0.045 * 0.5);
    expect(metal).toBeLessThan(0.25 * 0.045 + 32 * cell);
  });

  it("shows the hollow of a box darker than its outside", () => {
    const { space } = drawField(subjectOf(box), null);
    const steps = new Set(space.shapes.map(({ ink }) => ink.step));
    expect(Math.max(...steps)).toBeGreaterThanOrEqual(3);
    expect(Math.min(...steps)).toBeLessThanOrEqual(1);
  });

  it("is of the bath with what hangs inside, where the plan hangs something", () => {
    const rod = { from: [0, 0, 0.2], to: [0, 0, 0.35] } as const;
    const hung = { form: { kind: "RODS", rods: [rod], radiusM: 0.006 }, currentA: 8 } as const;
    const baths: Bathful[] = [];
    const currents: unknown[] = [];
    drawField(subjectOf(box), hung, (bath, options) => {
      baths.push(bath);
      currents.push(options.polarised?.currentA);
      return lookAt(bath, options);
    });
    expect(baths[0]?.anodes.map(({ form }) => form.kind)).toEqual(["STRIPS", "ROD"]);
    expect(currents).toEqual([8]);
  });
});
