import { Cancelled } from "@/lib/field";
import { beforeAll, describe, expect, it } from "vitest";
import { tryTank } from "./candidate";
import type { FieldSubject } from "./field-bath";
import { findField, placeHours } from "./field-findings";
import type { FieldFindings } from "./field-types";
import { box, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";
import { planPart } from "./plan";
import type { TankOption } from "./tank-option";
import { outlook, plannedSettings, startWhatIf } from "./what-if";

/** With a bath in it, so that every plan has the same. */
const full: TankOption = {
  ...tub,
  bath: { carbonateG: 450, bicarbonateG: 0, volumeL: 130 },
};

function subjectOf(part: PartDescription): FieldSubject {
  const chosen = tryTank(full, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return { part, chosen };
}
const CELLS = { cells: 12_000 };

let ofBox: FieldFindings;
let ofCasting: FieldFindings;
const shares: number[] = [];
beforeAll(() => {
  ofBox = findField(subjectOf(box), { ...CELLS, onProgress: (share) => shares.push(share) });
  ofCasting = findField(subjectOf(casting), CELLS);
}, 60_000);

describe("what the field finds of an open box", () => {
  it("is an inside that lags far behind, and an outside that does not", () => {
    const { outside, inside, worst } = ofBox.planned.hours;
    expect(inside?.p50).toBeGreaterThan(5 * outside.p50);
    expect(worst).toEqual(inside);
    expect(ofBox.insideShare).toBeCloseTo(0.495, 1);
    expect(ofBox.planned.lagShare).toBeGreaterThan(0.2);
  });

  it("ranks what could be hung inside by the hours it saves, each clear of the part", () => {
    const found = ofBox.innerAnodes;
    expect(found.length).toBeGreaterThanOrEqual(3);
    found.forEach(({ savesH, hours, clearanceMm, words, currentA }, index) => {
      expect(savesH).toBeCloseTo(ofBox.planned.hours.worst.p50 - hours.worst.p50, 9);
      expect(savesH).toBeLessThanOrEqual(found[index - 1]?.savesH ?? Infinity);
      expect(clearanceMm).toBeGreaterThanOrEqual(20);
      expect(words).toMatch(/^(A|Two) (rods?|sheet) of \{\d+ mm\}/);
      // More metal at the anode's volts draws more.
      expect(currentA).toBeGreaterThan(ofBox.planned.currentA);
    });
    // A sheet reaches farthest into the corners.
    expect(found[0]?.form.kind).toBe("SHEET");
  });

  it("lists the ways to lie that fit, the plan's own once, the quickest first", () => {
    const { turns } = ofBox;
    expect(turns.length).toBeGreaterThan(1);
    expect(turns.filter(({ planned }) => planned)).toHaveLength(1);
    turns.forEach(({ hours }, index) => {
      expect(hours.p50).toBeGreaterThanOrEqual(turns[index - 1]?.hours.p50 ?? 0);
    });
  });

  it("is plain data, with progress that rises to the end", () => {
    expect(JSON.parse(JSON.stringify(ofBox))).toEqual(ofBox);
    expect(shares.at(-1)).toBe(1);
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
    expect(shares.length).toBeGreaterThan(5);
  });
});

describe("what the field finds of an open casting", () => {
  it("needs nothing inside, has no inside, and a shape length near the closed form's", () => {
    expect(ofCasting.innerAnodes).toEqual([]);
    expect(ofCasting.planned.hours.inside).toBeNull();
    expect(ofCasting.shapeLengthM.error).toBeLessThan(0.1 * ofCasting.shapeLengthM.value);
    const { currentA } = subjectOf(casting).chosen.band.mid;
    expect(ofCasting.planned.currentA / currentA).toBeCloseTo(1, 0.8);
  });

  it("ends when told to", () => {
    const cancel = { cancelled: true };
    expect(() => findField(subjectOf(casting), { ...CELLS, cancel })).toThrow(Cancelled);
  });

  it("has hours of a place that fall with its share of the current", () => {
    const hours = placeHours(subjectOf(casting));
    expect(hours(0)).toBe(Infinity);
    expect(hours(Number.NaN)).toBe(Infinity);
    expect(hours(0.05)).toBeGreaterThan(hours(0.2));
    // Above saturation more current makes gas, not haste.
    expect(hours(2)).toBe(hours(3));
  });
});

describe("a plan that rests on its field", () => {
  const planned = (innerAnode: boolean, tank: TankOption = { ...full, field: ofBox }) => {
    const answer = planPart({ part: box, tanks: [tank], workshop, innerAnode });
    if (!answer.planned) throw new Error("no plan");
    return answer.plan;
  };

  it("takes over its current and its hours", () => {
    const plan = planned(false);
    expect(plan.fieldCells).toBe(ofBox.cells);
    expect(plan.currentA.mid / ofBox.planned.currentA).toBeCloseTo(1, 2);
    expect(plan.hours.p50 / ofBox.planned.hours.worst.p50).toBeCloseTo(1, 1);
    expect(plan.figures.hoursInside?.value).toBeCloseTo(plan.hours.p50, 6);
    expect(plan.innerAnode).toBeNull();
    const best = ofBox.innerAnodes[0]?.hours.worst.p50 ?? 0;
    expect((plan.hoursWithInnerAnode?.p50 ?? 0) / best).toBeCloseTo(1, 0.9);
  });

  it("hangs what the field found best when an anode is asked for", () => {
    const [plain, hung] = [planned(false), planned(true)];
    expect(hung.hours).toEqual(plain.hoursWithInnerAnode);
    expect(hung.hoursWithInnerAnode).toBeNull();
    expect(hung.currentA.mid).toBeGreaterThan(plain.currentA.mid);
    expect(hung.innerAnode).toContain(ofBox.innerAnodes[0]?.words);
    const step = hung.steps.find(({ title }) => title === "Hang an inner anode");
    expect(step?.detail).toContain(ofBox.innerAnodes[0]?.words);
    expect(step?.caution).toContain("short circuit");
  });

  it("may have an anode inside without a field, as shapes have it by default", () => {
    const bare = planned(true, full);
    expect(bare.fieldCells).toBeUndefined();
    expect(bare.hours).toEqual(planned(false, full).hoursWithInnerAnode);
    expect(bare.innerAnode).toContain("steel rod inside the hollow");
  });

  it.each([false, true])(
    "is where trying other settings begins; anode inside: %s",
    (innerAnode) => {
      const plan = planned(innerAnode);
      const start = startWhatIf(box, { ...full, field: ofBox }, workshop, undefined, innerAnode);
      if (typeof start === "string") throw new Error(start);
      const seen = outlook(start, plannedSettings(start));
      expect(seen.hours.p50).toBeCloseTo(plan.hours.p50, 9);
      expect(seen.current.value).toBeCloseTo(plan.currentA.mid, 9);
      // What goes to a browser has the findings' words of the best, not all of them.
      expect(start.chosen.tank.field).toBeUndefined();
    },
  );
});
