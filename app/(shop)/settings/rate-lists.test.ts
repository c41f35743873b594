import { describe, expect, it } from "vitest";
import { isRefusal } from "@/lib/errors";
import { bandsFrom, rulesFrom, skillsFrom, stepsFrom } from "./rate-lists";

/** The messages beside the fields of what is refused. */
function refused(read: () => unknown): unknown {
  try {
    read();
  } catch (error) {
    if (isRefusal(error)) return error.fields;
    throw error;
  }
  return "nothing was refused";
}

describe("the lists of a rate card, as typed", () => {
  it("bring tasks of one skill together, a row a task", () => {
    const typed = {
      skillName: ["", "mate", "mate", "master", ""],
      skillRate: ["", "36", "36,00", "60.50", ""],
    };
    expect(skillsFrom(typed, "EUR")).toEqual([
      { name: "mate", perHourMinor: 3600, tasks: ["load", "pull"] },
      { name: "master", perHourMinor: 6050, tasks: ["finish"] },
    ]);
  });

  it("say in which row something is wrong with a skill", () => {
    const rows = (skillName: string[], skillRate: string[]) =>
      refused(() => skillsFrom({ skillName, skillRate }, "EUR"));
    expect(rows(["", "mate"], ["", "lots"])).toEqual({
      skillRate: "Row 2: expected an amount in EUR, such as 12.50; not “lots”.",
    });
    expect(rows([""], ["5"])).toMatchObject({
      skillName: expect.stringMatching(/^Row 1/) as string,
    });
    expect(rows(["mate", "mate"], ["5", "6"])).toMatchObject({
      skillRate: expect.stringMatching(/another rate/) as string,
    });
  });

  it("take hours over midnight, and midnight as the end of a day", () => {
    const typed = {
      bandName: ["night", "evening", ""],
      bandDays: ["1,2,3,4,5", "6,7", "1,2,3,4,5,6,7"],
      bandFrom: ["22:00", "18:30", ""],
      bandTo: ["06:00", "00:00", ""],
      bandRate: ["0.20", "0.25", ""],
    };
    expect(bandsFrom(typed, "EUR")).toEqual([
      { name: "night", days: [1, 2, 3, 4, 5], fromMinute: 1320, toMinute: 360, perKwhMinor: 20 },
      { name: "evening", days: [6, 7], fromMinute: 1110, toMinute: 1440, perKwhMinor: 25 },
    ]);
    expect(refused(() => bandsFrom({ ...typed, bandTo: ["6 o'clock"] }, "EUR"))).toEqual({
      bandTo: "Row 1: expected a time such as 22:00; not “6 o'clock”.",
    });
  });

  it("take steps of discounts", () => {
    const typed = { stepFrom: ["500", ""], stepPercent: ["5", ""] };
    expect(stepsFrom(typed, "EUR")).toEqual([{ fromMinor: 50_000, percent: 5 }]);
    expect(refused(() => stepsFrom({ ...typed, stepPercent: ["101"] }, "EUR"))).toHaveProperty(
      "stepPercent",
    );
  });

  it("keep the codes of ways of taxing, and give new ones their own", () => {
    const typed = {
      ruleCode: ["standard", "", "rule-1"],
      ruleLabel: ["As usual", "Abroad", "Both"],
      tax1Name: ["VAT", "", "GST"],
      tax1Percent: ["20", "", "5"],
      tax2Name: ["", "", "PST"],
      tax2Percent: ["", "", "7"],
    };
    expect(rulesFrom(typed)).toEqual([
      { code: "standard", label: "As usual", taxes: [{ name: "VAT", percent: 20 }] },
      { code: "rule-2", label: "Abroad", taxes: [] },
      {
        code: "rule-1",
        label: "Both",
        taxes: [
          { name: "GST", percent: 5 },
          { name: "PST", percent: 7 },
        ],
      },
    ]);
    // A form holds other fields beside its rows.
    const form = { ...typed, validFrom: new Date(), tankHourMinor: 5, pricesIncludeTax: undefined };
    expect(rulesFrom(form)).toHaveLength(3);
    const none = {
      ...typed,
      ruleLabel: [],
      tax1Name: [],
      tax1Percent: [],
      tax2Name: [],
      tax2Percent: [],
    };
    expect(refused(() => rulesFrom({ ...none, ruleCode: [] }))).toHaveProperty("ruleLabel");
    expect(refused(() => rulesFrom({ ...typed, tax1Name: ["", "", ""] }))).toHaveProperty(
      "tax1Name",
    );
  });
});
