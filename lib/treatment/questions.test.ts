import { describe, expect, it } from "vitest";
import { type Hazard, HAZARDS, MATERIALS, PART_SHAPES } from "./codes";
import { casting } from "./fixtures";
import { isAsked, questionsFor, SETTLED_MATERIALS } from "./questions";
import { RULES } from "./rules";
import { decide } from "./suitability";

const asked = (
  hazard: Hazard,
  material: (typeof MATERIALS)[number],
  shape: (typeof PART_SHAPES)[number],
) => isAsked(hazard, { material, shape });

describe("questions", () => {
  it("are none where the metal is refused for good whatever the answers, and only there", () => {
    for (const material of MATERIALS) {
      for (const shape of PART_SHAPES) {
        const settled = SETTLED_MATERIALS.includes(material);
        expect(questionsFor({ material, shape }).length === 0, material).toBe(settled);
        const verdict = decide({ ...casting, material, shape });
        if (settled) expect(verdict).toMatchObject({ outcome: "REFUSE", absolute: true });
      }
    }
  });

  it.each([
    ["HELD_FUEL", "MILD_STEEL", "PLATE", false],
    ["HELD_FUEL", "MILD_STEEL", "PAN", true],
    ["SEALED_VOLUME", "CAST_IRON", "BAR_GRID", false],
    ["SEALED_VOLUME", "CAST_IRON", "SOLID", true],
    ["SEALED_VOLUME", "CAST_IRON", "RING", false],
    ["ELECTRICAL", "CAST_IRON", "SOLID", true],
    ["ELECTRICAL", "CAST_IRON", "PLATE", false],
    ["MOVING_ASSEMBLY", "CAST_IRON", "PLATE", false],
    ["MOVING_ASSEMBLY", "CAST_IRON", "RING", true],
    ["HIGH_STRENGTH_FASTENER", "CAST_IRON", "SOLID", false],
    ["HIGH_STRENGTH_FASTENER", "MILD_STEEL", "SOLID", true],
    ["HIGH_STRENGTH_FASTENER", "MILD_STEEL", "PAN", false],
    ["CADMIUM_PLATED", "CAST_IRON", "PLATE", false],
    ["CADMIUM_PLATED", "MILD_STEEL", "PLATE", true],
    ["CADMIUM_PLATED", "GALVANISED_STEEL", "PLATE", false],
    ["FIREARM", "CAST_IRON", "PLATE", true],
    ["ARCHAEOLOGICAL", "WROUGHT_IRON", "BAR_GRID", true],
  ] as const)("%s of %s %s: %s", (hazard, material, shape, expected) => {
    expect(asked(hazard, material, shape)).toBe(expected);
  });

  it("cover every hazard that a rule speaks of, for some part", () => {
    for (const hazard of HAZARDS) {
      const anywhere = MATERIALS.some((material) =>
        PART_SHAPES.some((shape) => asked(hazard, material, shape)),
      );
      expect(anywhere, hazard).toBe(true);
    }
  });

  it("whose answer is yes bring in a rule of their own", () => {
    const before = new Set(decide(casting).findings.map(({ rule }) => rule));
    for (const hazard of HAZARDS) {
      const after = decide({ ...casting, hazards: [hazard] }).findings;
      expect(
        after.some(({ rule }) => !before.has(rule)),
        hazard,
      ).toBe(true);
    }
  });
});

describe("every rule", () => {
  it.each(RULES.map((rule) => [rule.id, rule] as const))(
    "%s has a reason, a source or “common practice, no source”, and something to do",
    (_id, rule) => {
      for (const words of [rule.title, rule.reason, rule.source, rule.whatToDo]) {
        expect(words.trim()).not.toBe("");
      }
      expect(rule.reason).toMatch(/\.$/);
    },
  );

  it("has an id of its own", () => {
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
  });
});
