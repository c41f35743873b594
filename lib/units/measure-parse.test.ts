import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fieldText, formatMeasure } from "./measure-format";
import { enteredUnit, kindFacts, MEASURE_KINDS, UNIT_SYSTEMS } from "./measure-kinds";
import { parseMeasure } from "./measure-parse";
import { TYPE_WITHOUT_COMMA } from "./number";

describe("a length typed in a shop that works in inches", () => {
  it.each([
    ["1 1/2", 38.1],
    ["1 1/2 in", 38.1],
    ['1-1/2"', 38.1],
    ["1½″", 38.1],
    ["1\u00a0½ in", 38.1],
    ["½", 12.7],
    ["1⁄4 in.", 6.35],
    ["3/4", 19.05],
    ["⅞ inch", 22.225],
    ["12.5 cm", 125],
    ["12,5 cm", 125],
    ["300mm", 300],
    ["2 m", 2000],
    ["1 234,5 mm", 1234.5],
    ["2 ft 3 in", 685.8],
    ["2 FT, 3 IN", 685.8],
    [`2' 3"`, 685.8],
    ["2′ 3 1/2″", 698.5],
    [`2'-3 1/2"`, 698.5],
    ["1 m 20 cm", 1200],
    ["5.", 127],
    ["−3", -76.2],
    ["1e-3", 0.0254],
  ])("reads %j as %d mm", (typed, mm) => {
    expect(parseMeasure("length", typed, "US")).toBe(mm);
  });

  it.each([
    "",
    "in",
    "5 stone",
    "5 inx",
    "5 5 in",
    "2 3",
    "2 ft 3",
    "3 in 2 ft",
    "2 ft 2 ft",
    "-2 ft 3 in",
    "1 3/2 in",
    "1/0 in",
    "1/2/3",
    "1.2.3",
    "1,234.5",
    "--1",
    "12 °F",
  ])("refuses %j", (typed) => {
    expect(parseMeasure("length", typed, "US")).toContain("is not a length");
  });

  it.each(["1,234", "12,345 mm", "2 ft 1,234 in"])("does not guess what %j means", (typed) => {
    expect(parseMeasure("length", typed, "US")).toBe(TYPE_WITHOUT_COMMA);
  });

  it("says what was typed and what was expected", () => {
    expect(parseMeasure("length", " 5 stone ", "US")).toBe(
      "“5 stone” is not a length. Write a number (taken as in) or say its unit: 25 cm, 10 1/2 in, 2 ft 3 in.",
    );
    expect(parseMeasure("temperature", "warm", "METRIC")).toBe(
      "“warm” is not a temperature. Write a number (taken as °C) or say its unit: 20 °C, 68 °F.",
    );
  });
});

describe("other kinds", () => {
  it.each([
    ["temperature", "68 °F", "METRIC", 20],
    ["temperature", "20 C", "US", 20],
    ["temperature", "68", "US", 20],
    ["temperature", "-40 F", "METRIC", -40],
    ["partMass", "5 lb 4 oz", "METRIC", 2381.3599425],
    ["partMass", "5", "METRIC", 5000],
    ["salt", "8 oz", "METRIC", 226.796185],
    ["salt", "300", "METRIC", 300],
    ["salt", "8", "US", 226.796185],
    ["steelMass", "5", "US", 2267.96185],
    ["volume", "2 gal", "METRIC", 7.570823568],
    ["volume", "2", "US", 7.570823568],
    ["volume", "1 1/2 cups", "METRIC", 0.35488235475],
    ["volume", "3 tbsp", "METRIC", 0.04436029434375],
    ["volume", "8 fl oz", "METRIC", 0.2365882365],
    ["volume", "1 gal 1 qt", "METRIC", 4.73176473],
    ["liquid", "1 pt", "METRIC", 473.176473],
    ["liquid", "250", "METRIC", 250],
    ["distance", "6 ft 6 in", "METRIC", 1.9812],
    ["area", "2 sq ft", "METRIC", 0.18580608],
    ["area", "1 in2", "METRIC", 0.00064516],
    ["roomVolume", "1000 cu ft", "METRIC", 28.316846592],
    ["airflow", "10 cfm", "METRIC", 16.9901079552],
    ["strength", "1 oz/gal", "METRIC", 7.489151707306],
    ["lineMass", "1 lb/ft", "METRIC", 1.4881639435696],
    ["conductivity", "8 mS/cm", "US", 0.8],
    ["conductivity", "0.8 S/m", "US", 0.8],
    ["currentDensity", "1 A/ft2", "METRIC", 10.763910416709],
    ["stress", "145 ksi", "METRIC", 999.73980750941],
  ] as const)("%s: %j in a %s shop is %d", (kind, typed, system, si) => {
    expect(parseMeasure(kind, typed, system)).toBeCloseTo(si, 10);
  });

  it("adds no temperatures and no gauges", () => {
    expect(parseMeasure("temperature", "68 F 3 F", "US")).toContain("is not a temperature");
    expect(parseMeasure("section", "10 AWG 4 mm²", "US")).toContain("is not a wire size");
  });
});

describe("a wire size", () => {
  it.each([
    ["10 AWG", 10],
    ["10", 10],
    ["AWG 10", 10],
    ["#10", 10],
    ["10 ga", 10],
    ["1/0 AWG", 0],
    ["AWG 2/0", -1],
    ["4/0", -3],
    ["40", 40],
  ])("%j is gauge %d", (typed, gauge) => {
    const awg = kindFacts("section").units.find(({ sign }) => sign === "AWG");
    const si = parseMeasure("section", typed, "US");
    expect(awg?.fromSi(Number(si))).toBeCloseTo(gauge, 9);
  });

  it("may be a section in a shop of gauges, and a gauge in one of sections", () => {
    expect(parseMeasure("section", "4 mm²", "US")).toBe(4);
    expect(parseMeasure("section", "4mm2", "US")).toBe(4);
    expect(parseMeasure("section", "4", "METRIC")).toBe(4);
    expect(parseMeasure("section", "10 AWG", "METRIC")).toBeCloseTo(5.261, 3);
  });

  it.each(["10.5", "41", "-4 AWG", "5/0"])("refuses %j", (typed) => {
    expect(parseMeasure("section", typed, "US")).toMatch(/wire size|Wire gauges are 4\/0/);
  });
});

describe("every unit of every kind", () => {
  const units = MEASURE_KINDS.flatMap((kind) =>
    kindFacts(kind).units.map((unit) => ({ kind, unit })),
  ).filter(({ unit }) => unit.sign !== "AWG");

  it.each(units)("$kind in $unit.sign goes there and back", ({ kind, unit }) => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 1e6, noNaN: true }), (value) => {
        expect(unit.fromSi(unit.toSi(value)) / value).toBeCloseTo(1, 9);
        const typed = `${value.toFixed(6)} ${unit.sign}`;
        const read = Number(parseMeasure(kind, typed, "METRIC"));
        const si = unit.toSi(Number(value.toFixed(6)));
        expect(Math.abs(read - si)).toBeLessThanOrEqual(1e-12 * Math.abs(si));
      }),
      { numRuns: 20 },
    );
  });

  it.each(units)("$kind knows $unit.sign by its other names", ({ kind, unit }) => {
    for (const word of unit.words) {
      expect(parseMeasure(kind, `7 ${word}`, "US"), word).toBe(
        parseMeasure(kind, `7 ${unit.sign}`, "US"),
      );
    }
  });

  it("has the units that its forms and its readers need, and examples that can be typed", () => {
    for (const kind of MEASURE_KINDS) {
      for (const system of UNIT_SYSTEMS) {
        const { entered, shown, examples } = kindFacts(kind)[system];
        expect(enteredUnit(kind, system).sign).toBe(entered);
        expect(formatMeasure(kind, 4, system)).toMatch(new RegExp(`(${shown.join("|")}|mm²)$`));
        for (const example of examples.split(", ")) {
          expect(parseMeasure(kind, example, system), `${kind} ${example}`).toBeTypeOf("number");
        }
      }
    }
  });
});

describe("a field filled from what is stored", () => {
  it.each(MEASURE_KINDS)("is the same again when it is read: %s", (kind) => {
    fc.assert(
      fc.property(
        fc.constantFrom(...UNIT_SYSTEMS),
        fc.constantFrom(...UNIT_SYSTEMS),
        fc.integer({ min: 1, max: 400_000 }),
        fc.constantFrom(1, 10, 16, 64, 100),
        (typedIn, shownIn, count, parts) => {
          const unit = enteredUnit(kind, typedIn);
          const typed = unit.sign === "AWG" ? String((count % 40) + 1) : (count / parts).toFixed(6);
          const si = Number(parseMeasure(kind, typed, typedIn));
          const again = Number(parseMeasure(kind, fieldText(kind, si, shownIn), shownIn));
          expect(Math.abs(again - si)).toBeLessThanOrEqual(1e-9 * Math.abs(si));
        },
      ),
    );
  });
});
