import { describe, expect, it } from "vitest";
import { tryTank, type Candidate } from "./candidate";
import { box, casting, tub, workshop } from "./fixtures";
import { sizePart } from "./part";
import { planSteps, type PlanStep } from "./steps";

type Asked = Parameters<typeof planSteps>[0];

const chosenFor = (part = casting, tank = tub): Candidate => {
  const chosen = tryTank(tank, part, sizePart(part), workshop);
  if (typeof chosen === "string") throw new Error(chosen);
  return chosen;
};
const chosen = chosenFor();
const stepsOf = (change: Partial<Asked> = {}): readonly PlanStep[] =>
  planSteps({
    part: casting,
    chosen,
    hours: { p10: 2, p50: 4, p90: 8 },
    hangInside: false,
    bake: null,
    workshop,
    ...change,
  });
const stepOf = (title: RegExp, change: Partial<Asked> = {}): PlanStep | undefined =>
  stepsOf(change).find((step) => title.test(step.title));
const titles = (change: Partial<Asked> = {}): readonly string[] =>
  stepsOf(change).map(({ title }) => title);
const withBath = (change: Partial<Candidate["bath"]>): Partial<Asked> => ({
  chosen: { ...chosen, bath: { ...chosen.bath, ...change } },
});

describe("steps of a plan", () => {
  it("lead from the wash through the bath to the last look", () => {
    const order = stepsOf().map(({ when }) => when);
    expect(order).toEqual(
      [...order].sort(
        (a, b) => ["BEFORE", "BATH", "AFTER"].indexOf(a) - ["BEFORE", "BATH", "AFTER"].indexOf(b),
      ),
    );
    expect(titles()).toEqual([
      "Wash",
      "Bare a spot for the clip",
      "Mix the bath",
      "Hang the part",
      "Connect, then switch on",
      "Read the meter",
      "Look",
      "Switch off, then pull",
      "Rinse and brush",
      "Dry hot",
      "Protect at once",
      "Check the surface",
    ]);
  });

  it("say what each hand does, in words that matter at the bench", () => {
    const said: readonly [RegExp, RegExp][] = [
      [/^Wash/, /oil and grease, rinse/],
      [/^Bare a spot/, /bright.* negative clip/],
      [/^Hang the part/, /must not touch the anode/],
      [/^Connect/, /^Supply off.*Negative to the part, positive to the anode.*above the liquid/],
      [/^Switch off/, /^Supply off before any clip is touched/],
      [/^Rinse/, /Hot water.*rinse again/],
      [/^Protect/, /within the hour/],
      [/^Check/, /every face/],
    ];
    for (const [title, words] of said) expect(stepOf(title)?.detail).toMatch(words);
    expect(stepOf(/^Hang the part/)?.detail.startsWith(chosen.fit.words)).toBe(true);
    expect(stepOf(/^Connect/)?.caution).toMatch(/Hydrogen: .*no flame or spark, no lid/);
    expect(stepOf(/^Wash/)?.caution).toBeNull();
  });

  it("test old paint for lead before anything is mixed, by local rules", () => {
    expect(titles()).not.toContain("Test the paint for lead");
    const painted = { ...casting, coatings: ["OIL_PAINT", "LEAD_PAINT_SUSPECTED"] as const };
    const order = titles({ part: painted });
    expect(order.indexOf("Test the paint for lead")).toBe(2);
    const lead = stepOf(/lead/, { part: painted });
    expect(lead?.detail).toMatch(/separate bath, wet work only, .*licensed carrier/);
    expect(lead?.caution).toMatch(/29 CFR 1910\.1025.*local rules/);
    expect(titles({ part: { ...casting, coatings: ["OIL_PAINT"] } })).toEqual(titles());
  });

  it("mix a fresh bath of so much water and soda, with goggles and never table salt", () => {
    const mix = stepOf(/Mix the bath/, withBath({ saltToAddG: 349.6 }));
    expect(mix?.detail).toBe(
      `{${Math.round(chosen.volumeL)} L} of water in Blue tub, {350 g} of Soda ash, light, stirred clear.`,
    );
    expect(mix?.caution).toMatch(/Goggles and gloves.*Never table salt: it makes chlorine/);
  });

  it("strengthen a bath that is there, and leave one that lacks less than a gram", () => {
    const used = stepOf(/Strengthen/, withBath({ freshMix: false, saltToAddG: 80.4 }));
    expect(used?.detail).toBe("Stir {80 g} of Soda ash, light into Blue tub.");
    expect(used?.caution).toMatch(/Goggles/);
    const mixing = (saltToAddG: number): number =>
      stepsOf(withBath({ saltToAddG })).filter(({ title }) => /bath$/.test(title)).length;
    expect([1, 0.999, 0].map(mixing)).toEqual([1, 0, 0]);
  });

  it("tell what the meter should show after a quarter of an hour", () => {
    const { low, high } = chosen.band;
    expect(stepOf(/meter/)?.detail).toBe(
      `After a quarter of an hour expect ${low.currentA.toFixed(1)} to ${high.currentA.toFixed(1)} A.`,
    );
  });

  it.each<[number, string]>([
    [0.01, "5 min"],
    [0.5, "30 min"],
    [0.88, "55 min"],
    [0.99, "60 min"],
    [1, "1.0 h"],
    [9.94, "9.9 h"],
    [10, "10 h"],
    [26.4, "26 h"],
  ])("say %d h as a person would", (p10, words) => {
    const look = stepOf(/^Look/, { hours: { p10, p50: 40, p90: 80 } });
    expect(look?.detail).toBe(
      `First look after ${words}; half are done by 40 h, nine in ten by 80 h.`,
    );
  });

  it("hang an inner anode after the part, where it helps", () => {
    expect(titles()).not.toContain("Hang an inner anode");
    const order = titles({ hangInside: true, part: box });
    expect(order.indexOf("Hang an inner anode")).toBe(order.indexOf("Hang the part") + 1);
    const hung = stepOf(/inner anode/, { hangInside: true });
    expect(hung).toMatchObject({
      when: "BATH",
      caution: "It must not touch the part: that is a short circuit.",
    });
    expect(hung?.detail).toMatch(/insulating spacers/);
  });

  it("turn a part that goes in end for end, each dip its share of the hours", () => {
    expect(titles()).not.toContain("Turn end for end");
    const turned = { ...chosen, dips: 2 };
    expect(stepOf(/Turn/, { chosen: turned })).toMatchObject({
      when: "BATH",
      detail: "2 dips of about 2.0 h each.",
    });
    const order = titles({ chosen: turned });
    expect(order.indexOf("Turn end for end")).toBe(order.indexOf("Look") + 1);
  });

  it("bake strong steel between rinse and drying, and promise nothing", () => {
    expect(titles()).not.toContain("Relief bake");
    const bake = { leastC: 190, mostC: 220, hours: 18, startWithinHours: 4 };
    const order = titles({ bake });
    expect(order.indexOf("Relief bake")).toBe(order.indexOf("Rinse and brush") + 1);
    const baked = stepOf(/bake/, { bake });
    expect(baked?.detail).toMatch(/^{190 to 220 °C} for 18 h or more, begun within 4 h of pulling/);
    expect(baked?.caution).toMatch(/ASTM B850-98.*does not guarantee freedom/);
  });

  it("dry in an oven, cast iron right through", () => {
    expect(stepOf(/Dry/)?.detail).toMatch(/{100 to 120 °C}.*right through.*pores/);
    const steel = stepOf(/Dry/, { part: { ...casting, material: "MILD_STEEL" } })?.detail;
    expect(steel).toMatch(/{100 to 120 °C}.*bone dry/);
  });
});
