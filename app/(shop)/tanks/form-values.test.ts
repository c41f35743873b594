import { describe, expect, it } from "vitest";
import { z } from "zod";
import { wireArea } from "@/lib/units";
import { saltFields, saltOf, tankForm, tankOf } from "./form-values";

const TYPED = {
  name: "Long trough",
  kind: "TAPERED_BOX",
  topLengthMm: "24",
  topWidthMm: "16 1/2",
  bottomLengthMm: "1 ft 11 in",
  bottomWidthMm: "40 cm",
  depthMm: '15 3/4"',
  workingLevelMm: "12",
  clearanceMm: "2",
  leadLengthM: "6 ft 6 in",
  leadAreaMm2: "10 AWG",
  contactOhm: "0.02",
};

describe("a tank typed in a shop that works in inches", () => {
  it("is stored in millimetres, to the last digit", () => {
    expect(tankOf(tankForm("US").parse(TYPED))).toMatchObject({
      topLengthMm: 609.6,
      topWidthMm: 419.1,
      bottomLengthMm: 584.2,
      bottomWidthMm: 400,
      depthMm: 400.05,
      workingLevelMm: 304.8,
      clearanceMm: 50.8,
      leadLengthM: 1.9812,
      leadAreaMm2: Number(wireArea(10).toPrecision(14)),
    });
  });

  it("says its ranges in inches", () => {
    const refused = tankForm("US").safeParse({ ...TYPED, clearanceMm: "30", depthMm: "" });
    const messages = refused.error?.issues.map(({ path, message }) => [path[0], message]);
    expect(messages).toEqual([
      ["depthMm", "Enter a number from 0.03937 to 393.7 in."],
      ["clearanceMm", "Expected a number from 0 to 19.69 in."],
    ]);
  });
});

describe("a tank typed in a metric shop", () => {
  it("takes bare millimetres, and inches where they are said", () => {
    const typed = { ...TYPED, topLengthMm: "600", depthMm: "1 1/2 in", leadAreaMm2: "4" };
    const tank = tankForm("METRIC").parse({ ...typed, leadLengthM: "2" });
    expect(tank).toMatchObject({ topLengthMm: 600, depthMm: 38.1, leadAreaMm2: 4, leadLengthM: 2 });
  });
});

describe("measured marks", () => {
  const marks = (units: "METRIC" | "US", text: string) =>
    tankForm(units).safeParse({
      ...TYPED,
      topLengthMm: "600 mm",
      kind: "MEASURED",
      marks: text,
    });

  it.each([
    ["METRIC", "100 12.5\n200 26,5", 100, 12.5],
    ["METRIC", "4 in 2 gal", 101.6, 7.570823568],
    ["METRIC", "1 250 12", 1250, 12],
    ["US", "4 1/2 3.3", 114.3, 12.4918588872],
    ["US", "4 1/2 1 1/2", 114.3, 5.678117676],
    ["US", "100 mm 12.5 L", 100, 12.5],
  ] as const)("%s: %j", (units, text, levelMm, volumeL) => {
    expect(marks(units, text).data?.marks?.[0]).toEqual({ levelMm, volumeL });
  });

  it.each(["100", "100 200 300", "low 12", "100 12 L 5"])("refuses %j", (text) => {
    expect(marks("METRIC", text).error?.issues[0]?.message).toMatch(/^One line for each level/);
  });
});

describe("soda for a bath", () => {
  const soda = (units: "METRIC" | "US", typed: string) =>
    z.object(saltFields(units)).safeParse({ saltItemId: "", saltG: typed });

  it.each([
    ["METRIC", "300", { massG: 300 }],
    ["US", "8", { massG: 226.796185 }],
    ["METRIC", "8 oz", { massG: 226.796185 }],
    ["US", "1 1/2 cups", { powderL: 0.35488235475 }],
    ["METRIC", "3 tbsp", { powderL: 0.04436029434375 }],
    ["METRIC", "", null],
  ] as const)("%s: %j", (units, typed, amount) => {
    expect(soda(units, typed).data?.saltG).toEqual(amount);
  });

  it("refuses what is neither a mass nor a cup of it, and what no bath takes", () => {
    expect(soda("US", "a pinch").error?.issues[0]?.message).toContain("is not a mass");
    expect(soda("METRIC", "200 kg").error?.issues[0]?.message).toContain("from 0 to 100000 g");
    expect(soda("US", "500 lb").error?.issues[0]?.message).toContain("from 0 to 220 lb");
    expect(soda("US", "1000 gal").success).toBe(false);
  });

  it("is nothing without an item, or without an amount", () => {
    expect(saltOf("", { massG: 3 })).toBeNull();
    expect(saltOf("soda", null)).toBeNull();
    expect(saltOf("soda", { massG: 0 })).toBeNull();
    expect(saltOf("soda", { powderL: 0.1 })).toEqual({ itemId: "soda", powderL: 0.1 });
  });
});
