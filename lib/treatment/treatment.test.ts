import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { box, casting } from "./fixtures";
import {
  HAZARDS,
  MATERIALS,
  RULES,
  SATURATION_A_PER_M2,
  decide,
  densities,
  faceHours,
  mayGoIn,
  reliefBake,
  sizePart,
} from "./index";

describe("size of a part", () => {
  it("is a plate's six faces, with a tenth for edges", () => {
    const bare = (2 * (250 * 65 + 250 * 45 + 65 * 45)) / 1e6;
    expect(sizePart(casting).areaM2.value).toBeCloseTo(1.1 * bare, 9);
    expect(sizePart(casting).insideShare).toBe(0);
  });

  it("counts the inside of a hollow part", () => {
    const { insideShare, areaM2 } = sizePart(box);
    expect(insideShare).toBeGreaterThan(0.45);
    expect(insideShare).toBeLessThan(0.5);
    expect(areaM2.value).toBeGreaterThan(0.55);
  });

  it("is a tube's two cylinders", () => {
    const tube = {
      ...box,
      shape: "TUBE",
      lengthMm: 600,
      widthMm: 90,
      heightMm: 90,
      wallMm: 5,
    } as const;
    expect(sizePart(tube).areaM2.value).toBeCloseTo((1.1 * Math.PI * 600 * (90 + 80)) / 1e6, 9);
  });

  it("grows with the square of the size, for every shape", () => {
    for (const shape of ["PLATE", "SOLID", "BOX", "TUBE", "PAN", "RING", "BAR_GRID"] as const) {
      const small = { ...box, shape, lengthMm: 300, widthMm: 300, heightMm: 120, wallMm: 6 };
      const large = { ...small, lengthMm: 600, widthMm: 600, heightMm: 240, wallMm: 12 };
      expect(sizePart(large).areaM2.value / sizePart(small).areaM2.value).toBeCloseTo(4, 6);
    }
  });

  it("takes a measured area and a weighed mass as they are", () => {
    const size = sizePart({ ...casting, areaOverrideM2: 0.123 });
    expect(size.areaM2).toMatchObject({ value: 0.123, standing: "entered here" });
    expect(size.steelMassG).toMatchObject({ value: 1450, standing: "entered here" });
  });

  it("refuses measures that cannot be, naming them", () => {
    expect(() => sizePart({ ...casting, widthMm: 0 })).toThrow(
      /width must be finite and above 0 mm/,
    );
    expect(() => sizePart({ ...casting, massG: Number.NaN })).toThrow(/mass/);
    expect(() => sizePart({ ...box, wallMm: -1 })).toThrow(/wall/);
  });
});

describe("verdict", () => {
  it("lets plain iron in and cautions about flash rust", () => {
    const verdict = decide(casting);
    expect(verdict.outcome).toBe("ACCEPT");
    expect(verdict.findings.map((finding) => finding.rule)).toEqual(["cast-iron", "flash-rust"]);
  });

  it.each([
    ["ALUMINIUM", "REFUSE"],
    ["ZINC_POT_METAL", "REFUSE"],
    ["MAGNESIUM", "REFUSE"],
    ["GALVANISED_STEEL", "REFUSE"],
    ["STAINLESS_STEEL", "REFUSE"],
    ["LEAD_TIN_SOLDER", "REFUSE"],
    ["BRASS_BRONZE", "ACCEPT_WITH_CONDITIONS"],
    ["COPPER", "ACCEPT_WITH_CONDITIONS"],
    ["TERNE_STEEL", "REFUSE"],
    ["UNKNOWN", "REFER"],
    ["CHROME_NICKEL_PLATED", "ACCEPT_WITH_CONDITIONS"],
    ["TINNED_STEEL", "ACCEPT_WITH_CONDITIONS"],
    ["ENAMELLED_IRON", "ACCEPT_WITH_CONDITIONS"],
    ["HARDENED_STEEL", "REFER"],
    ["SPRING_STEEL", "REFER"],
    ["MILD_STEEL", "ACCEPT"],
    ["WROUGHT_IRON", "ACCEPT"],
  ] as const)("says of %s: %s", (material, outcome) => {
    expect(decide({ ...casting, material }).outcome).toBe(outcome);
  });

  it.each([
    ["SEALED_VOLUME", "REFUSE"],
    ["HELD_FUEL", "REFUSE"],
    ["FIREARM", "REFER"],
    ["ARCHAEOLOGICAL", "REFER"],
    ["SAFETY_CRITICAL", "REFER"],
    ["PRESSURE_OR_LIFTING", "REFER"],
    ["ASBESTOS_GASKET", "REFER"],
    ["CADMIUM_PLATED", "REFUSE"],
    ["HIGH_STRENGTH_FASTENER", "REFUSE"],
    ["ELECTRICAL", "REFUSE"],
    ["OIL_SOAKED", "ACCEPT_WITH_CONDITIONS"],
    ["WOOD_RUBBER_LEATHER", "ACCEPT_WITH_CONDITIONS"],
  ] as const)("says of iron with %s: %s", (hazard, outcome) => {
    expect(decide({ ...casting, hazards: [hazard] }).outcome).toBe(outcome);
  });

  it("asks for a bake once the strength of hardened steel is known, and refuses what is too strong", () => {
    const axe = { ...casting, material: "HARDENED_STEEL", hardnessHrc: 45 } as const;
    expect(decide(axe).outcome).toBe("ACCEPT_WITH_CONDITIONS");
    expect(decide(axe).findings.map((finding) => finding.rule)).toContain("strong-steel");
    const tooHard = decide({ ...axe, hardnessHrc: 60 });
    expect(tooHard).toMatchObject({ outcome: "REFUSE", absolute: true });
  });

  it("never gets milder when a hazard is added", () => {
    const firmness = ["ACCEPT", "ACCEPT_WITH_CONDITIONS", "REFER", "REFUSE"];
    fc.assert(
      fc.property(
        fc.constantFrom(...MATERIALS),
        fc.subarray([...HAZARDS]),
        fc.constantFrom(...HAZARDS),
        (material, hazards, more) => {
          const before = decide({ ...casting, material, hazards });
          const after = decide({ ...casting, material, hazards: [...hazards, more] });
          expect(firmness.indexOf(after.outcome)).toBeGreaterThanOrEqual(
            firmness.indexOf(before.outcome),
          );
        },
      ),
    );
  });

  it("has a rule for every hazard, and every rule says why, from where and what to do", () => {
    expect(RULES.length).toBeGreaterThanOrEqual(22);
    expect(new Set(RULES.map((rule) => rule.id)).size).toBe(RULES.length);
    for (const hazard of HAZARDS) {
      expect(
        RULES.some((rule) => rule.when({ ...casting, material: "MILD_STEEL", hazards: [hazard] })),
      ).toBe(true);
    }
    for (const rule of RULES) {
      expect(rule.reason.length).toBeGreaterThan(20);
      expect(rule.source).not.toBe("");
      expect(rule.whatToDo).not.toBe("");
    }
  });

  it("lets only the two accepting outcomes go in", () => {
    expect(mayGoIn("ACCEPT") && mayGoIn("ACCEPT_WITH_CONDITIONS")).toBe(true);
    expect(mayGoIn("REFER") || mayGoIn("REFUSE")).toBe(false);
  });
});

describe("hours", () => {
  it("fall as the current rises, down to the saturation", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 13, noNaN: true }), (density) => {
        expect(faceHours(casting, density * 1.1).p50).toBeLessThan(faceHours(casting, density).p50);
      }),
    );
    expect(faceHours(casting, 80).p50).toBe(faceHours(casting, SATURATION_A_PER_M2).p50);
  });

  it("widen with the spread of the current and keep their middle", () => {
    const narrow = faceHours(casting, 10);
    const wide = faceHours(casting, 10, 1.5);
    expect(wide.p50).toBe(narrow.p50);
    expect(wide.p90).toBeGreaterThan(narrow.p90);
    expect(narrow.p90 / narrow.p50).toBeCloseTo(1.8, 9);
  });

  it("share the current so that it adds up", () => {
    const { outsideAPerM2, insideAPerM2 } = densities(6, 0.5, { insideShare: 0.4, insideLag: 3 });
    expect(outsideAPerM2 * 0.3 + (insideAPerM2 ?? 0) * 0.2).toBeCloseTo(6, 9);
    expect(outsideAPerM2 / (insideAPerM2 ?? 1)).toBeCloseTo(3, 9);
  });

  it("refuse a current of nothing", () => {
    expect(() => faceHours(casting, 0)).toThrow(/current density/);
  });
});

describe("relief bake", () => {
  it("refuses hardness that is not on the scale", () => {
    expect(() => reliefBake(null, 80)).toThrow(/hardness must be from 0 to 70 HRC/);
  });
});
