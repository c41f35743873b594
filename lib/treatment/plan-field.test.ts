import { beforeAll, describe, expect, it } from "vitest";
import { type Candidate, tryTank } from "./candidate";
import { findField } from "./field-findings";
import type { FieldFindings } from "./field-types";
import { box, bucket, casting, tub, workshop } from "./fixtures";
import { type PartDescription, sizePart } from "./part";
import { planPart, type PlanRequest, type TreatmentPlan } from "./plan";
import type { TankOption } from "./tank-option";
import { outlook, plannedSettings, startWhatIf } from "./what-if";

/** With a bath in it, so that the plan's bath does not hang on the field. */
const filled: TankOption = { ...tub, bath: { carbonateG: 300, bicarbonateG: 0, volumeL: 130 } };

function planOf(
  part: PartDescription,
  field?: FieldFindings,
  request: Partial<PlanRequest> = {},
): TreatmentPlan {
  const answer = planPart({ part, tanks: [{ ...filled, field }], workshop, ...request });
  if (!answer.planned) throw new Error(JSON.stringify(answer.notTaken));
  return answer.plan;
}
function findingsOf(part: PartDescription, tank: TankOption = filled): FieldFindings {
  const chosen: Candidate | string = tryTank(tank, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return findField({ part, chosen }, { cells: 12_000 });
}
const within = (value: number, of: number, share: number): void => {
  expect(Math.abs(value / of - 1)).toBeLessThan(share);
};
const step = ({ steps }: TreatmentPlan, title: string) => steps.find((one) => one.title === title);

let ofBox: FieldFindings;
let ofCasting: FieldFindings;
beforeAll(() => {
  ofBox = findingsOf(box);
  ofCasting = findingsOf(casting);
}, 120_000);

describe("a plan that rests on the field", () => {
  it("draws the current and takes the hours that the field found, and says so", () => {
    for (const [part, field] of [
      [box, ofBox],
      [casting, ofCasting],
    ] as const) {
      const plan = planOf(part, field);
      within(plan.currentA.mid, field.planned.currentA, 0.02);
      within(plan.hours.p50, field.planned.hours.worst.p50, 0.02);
      within(plan.figures.hoursOutside.value, field.planned.hours.outside.p50, 0.02);
      expect(plan.fieldCells).toBe(field.cells);
      expect(plan.figures.currentA.inputs.map(({ source }) => source ?? "").join()).toMatch(
        /field/,
      );
    }
    within(
      planOf(box, ofBox).figures.hoursInside?.value ?? 0,
      ofBox.planned.hours.inside?.p50 ?? 1,
      0.02,
    );
    expect(planOf(casting, ofCasting).figures.hoursInside).toBeNull();
  });

  it("comes to the field's current in a fresh mix too, once that is worked out for the mix it asks for", () => {
    // The closed form would mix so weak a bath that the field's own plan is a stronger one.
    const first = findingsOf(box, tub);
    const stronger = planOf(box, undefined, { tanks: [{ ...tub, field: first }] });
    expect(stronger.figures.conductivitySPerM.value).toBeGreaterThan(1.1 * first.conductivitySPerM);
    const second = findingsOf(box, { ...tub, field: first });
    const plan = planOf(box, undefined, { tanks: [{ ...tub, field: second }] });
    within(plan.figures.conductivitySPerM.value, second.conductivitySPerM, 1e-6);
    within(plan.currentA.mid, second.planned.currentA, 0.02);
    within(plan.hours.p50, second.planned.hours.worst.p50, 0.02);
  });

  it("is another plan than the closed form's, by as much as it says", () => {
    const [closed, plan] = [planOf(box), planOf(box, ofBox)];
    expect(closed.fieldCells).toBeUndefined();
    expect(closed.fieldTimes).toBeUndefined();
    const length = ({ figures }: TreatmentPlan): number =>
      figures.currentA.inputs.find(({ symbol }) => symbol === "g")?.value as number;
    expect(Math.abs((plan.fieldTimes ?? 1) - 1)).toBeGreaterThan(0.01);
    expect(length(plan) / length(closed)).toBeCloseTo(plan.fieldTimes ?? NaN, 9);
    expect(plan.currentA.mid > closed.currentA.mid).toBe((plan.fieldTimes ?? 1) > 1);
    // The field is more certain than the closed form.
    const spread = ({ currentA }: TreatmentPlan): number => currentA.high / currentA.low;
    expect(spread(plan)).toBeLessThan(spread(closed));
  });

  it("promises what the field found for an anode hung inside", () => {
    const plan = planOf(box, ofBox);
    const [best] = ofBox.innerAnodes;
    if (!best) throw new Error("something helps in a box");
    within(plan.hoursWithInnerAnode?.p50 ?? 0, best.hours.worst.p50, 0.1);
    expect(plan.innerAnode).toBeNull();
    expect(step(plan, "Hang an inner anode")?.detail).toContain(best.words);
  });

  it("promises nothing of it where the field found nothing that helps", () => {
    const plan = planOf(box, { ...ofBox, innerAnodes: [] });
    expect(plan.hoursWithInnerAnode).toBeNull();
    expect(step(plan, "Hang an inner anode")).toBeUndefined();
    expect(planOf(casting, ofCasting).hoursWithInnerAnode).toBeNull();
  });

  it("with an anode hung inside draws more, takes as long as was found, and says what to hang", () => {
    const [plan, without] = [planOf(box, ofBox, { innerAnode: true }), planOf(box, ofBox)];
    const [best] = ofBox.innerAnodes;
    if (!best) throw new Error("something helps in a box");
    within(plan.hours.p50, best.hours.worst.p50, 0.1);
    within(plan.currentA.mid, best.currentA, 0.03);
    expect(plan.hours).toEqual(without.hoursWithInnerAnode);
    expect(plan.hours.p50).toBeLessThan(without.hours.p50);
    expect(plan.currentA.mid).toBeGreaterThan(without.currentA.mid);
    expect(plan.hoursWithInnerAnode).toBeNull();
    expect(plan.innerAnode).toContain(best.words);
    expect(plan.innerAnode).toContain(`{${best.clearanceMm} mm} clear`);
    expect(step(plan, "Hang an inner anode")?.detail).toBe(plan.innerAnode);
    expect(plan.fieldTimes).toBeGreaterThan(without.fieldTimes ?? Infinity);
  });

  it("hangs one inside by the shape alone where no field is known", () => {
    const [plan, without] = [planOf(box, undefined, { innerAnode: true }), planOf(box)];
    expect(plan.hours).toEqual(without.hoursWithInnerAnode ?? planOf(box).hours);
    expect(plan.innerAnode).toMatch(/^A steel rod inside the hollow/);
    expect(plan.fieldCells).toBeUndefined();
    expect(plan.hoursWithInnerAnode).toBeNull();
  });

  it("is plain: it comes back from JSON as it went", () => {
    const plan = planOf(box, ofBox, { innerAnode: true });
    expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
    // The findings are stored beside it, not in it.
    expect(JSON.stringify(plan)).not.toContain("innerAnodes");
  });
});

describe("the field of another tank", () => {
  it("leaves the plan as it is", () => {
    const spare: TankOption = { ...bucket, id: "spare", name: "Spare" };
    const small: PartDescription = { ...casting, lengthMm: 180, widthMm: 60, heightMm: 40 };
    const field = findingsOf(small, spare);
    const request = { preferredTankId: "tub" };
    const plain = planOf(small, undefined, { tanks: [tub, spare], ...request });
    const plan = planOf(small, undefined, { tanks: [tub, { ...spare, field }], ...request });
    expect(plain.tankId).toBe("tub");
    expect(plan).toEqual(plain);
    // And in its own tank it counts.
    const own = planOf(small, undefined, { tanks: [{ ...spare, field }] });
    expect(own.fieldCells).toBe(field.cells);
  });
});

describe("trying other settings from a plan that rests on the field", () => {
  it.each([false, true])(
    "begins at the plan's own figures, an anode hung inside: %s",
    (innerAnode) => {
      const plan = planOf(box, ofBox, { innerAnode });
      const begun = startWhatIf(box, { ...filled, field: ofBox }, workshop, undefined, innerAnode);
      if (typeof begun === "string") throw new Error(begun);
      const settings = plannedSettings(begun);
      expect(settings.innerAnode).toBe(innerAnode);
      const { current, hours, warnings } = outlook(begun, settings);
      within(current.value, plan.currentA.mid, 1e-9);
      within(current.low ?? 0, plan.currentA.low, 1e-9);
      within(current.high ?? 0, plan.currentA.high, 1e-9);
      for (const share of ["p10", "p50", "p90"] as const) {
        within(hours[share], plan.hours[share], 1e-9);
      }
      expect(warnings).toEqual(plan.warnings);
      // The other way round it comes to the other plan.
      const other = outlook(begun, { ...settings, innerAnode: !innerAnode });
      const turned = planOf(box, ofBox, { innerAnode: !innerAnode });
      within(other.hours.p50, turned.hours.p50, 1e-9);
      within(other.current.value, turned.currentA.mid, 1e-9);
    },
  );

  it("goes by what was learned of the plan it begins at", () => {
    const learned = {
      ...{ runs: 5, pooled: 0.4 },
      range: ({ p10, p50, p90 }: { p10: number; p50: number; p90: number }) => ({
        ...{ p10: 1.1 * p10, p50: 1.3 * p50, p90: 1.2 * p90 },
      }),
    };
    for (const innerAnode of [false, true]) {
      const plan = planOf(box, ofBox, { innerAnode, learned });
      const begun = startWhatIf(box, { ...filled, field: ofBox }, workshop, learned, innerAnode);
      if (typeof begun === "string") throw new Error(begun);
      within(outlook(begun, plannedSettings(begun)).hours.p50, plan.hours.p50, 1e-9);
    }
  });

  it("carries no more of the field to a browser than it needs", () => {
    const begun = startWhatIf(box, { ...filled, field: ofBox }, workshop);
    expect(JSON.stringify(begun)).not.toContain("turns");
    expect(JSON.stringify(begun)).not.toContain("wear");
  });
});
