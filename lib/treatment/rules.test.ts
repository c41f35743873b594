import { describe, expect, it } from "vitest";
import { COATINGS, HAZARDS, MATERIALS } from "./codes";
import { casting } from "./fixtures";
import type { PartDescription } from "./part";
import { LOCAL, PRACTICE, type Rule } from "./rule";
import { RULES } from "./rules";
import { decide, VERDICT_OUTCOMES, VERDICT_WORDS } from "./suitability";

const ruleOf = (id: string): Rule => {
  const rule = RULES.find((one) => one.id === id);
  if (!rule) throw new Error(`no rule ${id}`);
  return rule;
};
const named = RULES.map((rule) => [rule.id, rule] as const);

describe("every rule", () => {
  it.each(named)("%s says in sentences why and what to do", (_id, rule) => {
    expect(rule.title).toMatch(/^[A-Z].{2,}\w$/);
    expect(rule.reason).toMatch(/^[A-Z].{20,}\.$/s);
    expect(rule.whatToDo).toMatch(/^[A-Z].{8,}\.$/s);
    if (rule.caution !== undefined) expect(rule.caution).toMatch(/^[A-Z].{15,}\.$/s);
  });

  it.each(named)("%s names its source, or says that there is none", (_id, { source }) => {
    expect(source === PRACTICE || /\d|memory|Laboratory/.test(source)).toBe(true);
    expect(PRACTICE).toBe("common practice, no source");
  });

  it("speaks of some part, and is silent of plain iron unless it only cautions", () => {
    const anything: readonly Partial<PartDescription>[] = [
      ...MATERIALS.map((material) => ({ material })),
      ...HAZARDS.map((hazard) => ({ hazards: [hazard] })),
      ...COATINGS.map((coating) => ({ coatings: [coating] })),
      { material: "HARDENED_STEEL", hardnessHrc: 45 },
      { material: "HARDENED_STEEL", hardnessHrc: 60 },
    ];
    for (const { id, when, outcome } of RULES) {
      expect(
        anything.some((part) => when({ ...casting, ...part })),
        id,
      ).toBe(true);
      expect(when(casting), id).toBe(outcome === "CAUTION");
    }
  });
});

describe("rules that may hurt somebody", () => {
  it.each([
    "safety-critical",
    "pressure-lifting",
    "firearm",
    "fuel",
    "lead-paint",
    "lead-solder",
    "asbestos",
    "cadmium",
  ])("%s defers to local codes and licensed practice", (id) => {
    expect(ruleOf(id).caution).toBe(LOCAL);
    expect(LOCAL).toMatch(/Local codes and licensed practice decide.*not a permission/);
  });

  it.each<[string, RegExp]>([
    ["aluminium", /Soda attacks aluminium and makes hydrogen/],
    ["magnesium", /gas burn/],
    ["stainless", /chromate \(chromium VI\)/],
    ["plated", /chromate/],
    ["sealed", /burst/],
    ["fuel", /vapour, hydrogen and a spark/],
    ["cadmium", /poisonous/],
    ["asbestos", /fibres/],
    ["strong-steel", /1000 MPa or 31 HRC and over .* can crack days later/],
    ["too-strong", /1800 MPa or 51 HRC/],
    ["safety-critical", /must not fail/],
  ])("%s says what may happen", (id, words) => {
    expect(ruleOf(id).reason).toMatch(words);
  });

  it.each<[string, RegExp]>([
    ["stainless", /Never hang stainless steel as an anode/],
    ["plated", /Check the polarity.*the part is NEGATIVE/],
    ["sealed", /Do not drill or cut a closed vessel that may have held fuel/],
    ["strong-steel", /does not guarantee freedom from embrittlement/],
    ["brass-copper", /magnet all over/],
  ])("%s cautions", (id, words) => {
    expect(ruleOf(id).caution).toMatch(words);
  });

  it("that nobody may overrule are those of metals that dissolve or poison, and of steel past the bake table", () => {
    const absolute = RULES.filter((rule) => rule.absolute);
    expect(absolute.map(({ id }) => id).sort()).toEqual([
      "aluminium",
      "cadmium",
      "lead-solder",
      "magnesium",
      "stainless",
      "too-strong",
      "zinc",
    ]);
    for (const { outcome } of absolute) expect(outcome).toBe("REFUSE");
  });

  it("bake strong steel by the table, and refer what nobody measured", () => {
    const found = (change: Partial<PartDescription>): readonly string[] =>
      decide({ ...casting, material: "MILD_STEEL", ...change }).findings.map(({ rule }) => rule);
    expect(found({ tensileMpa: 1000 })).toContain("strong-steel");
    expect(found({ tensileMpa: 999 })).not.toContain("strong-steel");
    expect(found({ hardnessHrc: 31 })).toContain("strong-steel");
    expect(found({ hardnessHrc: 51 })).toContain("strong-steel");
    expect(found({ hardnessHrc: 51.1 })).toContain("too-strong");
    expect(found({ material: "HARDENED_STEEL" })).toContain("strength-unknown");
    expect(found({ material: "HARDENED_STEEL", hardnessHrc: 20 })).not.toContain(
      "strength-unknown",
    );
    expect(found({ hazards: ["HIGH_STRENGTH_FASTENER"] })).toContain("strength-unknown");
    expect(found({})).not.toContain("strength-unknown");
  });
});

describe("a verdict", () => {
  it("is the firmest finding, firmest first, each told whole", () => {
    const { outcome, findings, absolute } = decide({
      ...casting,
      hazards: ["FIREARM", "HELD_FUEL", "OIL_SOAKED"],
    });
    expect(outcome).toBe("REFUSE");
    expect(absolute).toBe(false);
    expect(findings.map((finding) => finding.outcome)).toEqual([
      "REFUSE",
      "REFER",
      "CONDITION",
      "CAUTION",
      "CAUTION",
    ]);
    const { title, reason, source, caution, whatToDo } = ruleOf("fuel");
    expect(findings[0]).toEqual({
      rule: "fuel",
      outcome: "REFUSE",
      absolute: false,
      ...{ title, reason, source, caution, whatToDo },
    });
    expect(findings.at(-1)?.caution).toBeNull();
  });

  it("is a plain yes where no rule speaks, and absolute where one rule is", () => {
    const bare: PartDescription = { ...casting, material: "HARDENED_STEEL", hardnessHrc: 20 };
    expect(decide(bare)).toEqual({ outcome: "ACCEPT", findings: [], absolute: false });
    const oily: PartDescription = { ...casting, material: "ALUMINIUM", hazards: ["OIL_SOAKED"] };
    expect(decide(oily).findings).toHaveLength(2);
    expect(decide(oily).absolute).toBe(true);
  });

  it("is said in words of its own", () => {
    const words = VERDICT_OUTCOMES.map((outcome) => VERDICT_WORDS[outcome]);
    expect(new Set(words).size).toBe(4);
    expect(VERDICT_WORDS.REFUSE).toMatch(/must not go in/i);
    expect(VERDICT_WORDS.REFER).toMatch(/refer or find out first/);
  });
});
