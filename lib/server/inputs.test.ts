import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { z } from "zod";
import {
  day,
  email,
  id,
  measureFrom,
  newPassword,
  numberFrom,
  optionalDay,
  optionalEmail,
  optionalMeasureFrom,
  optionalNumberFrom,
  optionalText,
  text,
  ticked,
} from "./inputs";

/** What the form would show beside the field. */
function refusal(schema: z.ZodType, typed: unknown): string | undefined {
  const result = schema.safeParse(typed);
  return result.success ? undefined : result.error.issues[0]?.message;
}

describe("numberFrom", () => {
  const volts = numberFrom(-5, 2_000_000, "V");

  it.each([
    ["12.5", 12.5],
    ["12,5", 12.5],
    [" 7 ", 7],
    ["0,125", 0.125],
    ["12345,5", 12345.5],
    [",5", 0.5],
    ["5.", 5],
    ["-2,5", -2.5],
    ["−2.5", -2.5],
    ["+3", 3],
    ["1e-7", 1e-7],
    ["1 234", 1234],
    ["1\u202f234\u00a0567,5", 1_234_567.5],
  ])("reads %j as %d", (typed, value) => {
    expect(volts.parse(typed)).toBe(value);
  });

  it.each([
    "",
    "  ",
    "abc",
    "12 V",
    "1.2.3",
    "1,234.5",
    "1.234,5",
    "--1",
    "0x10",
    "0b1",
    "1 2",
    ".",
  ])("refuses %j, saying what was expected", (typed) => {
    expect(refusal(volts, typed)).toMatch(/number from -5 to 2000000 V\./);
  });

  it.each(["NaN", "Infinity", "-Infinity", "1e999"])("refuses %j", (typed) => {
    expect(refusal(numberFrom(-Infinity, Infinity, "V"), typed)).toMatch(/^Expected a number/);
  });

  it.each(["1,234", "12,345", "1,234,567", "-2,500"])("does not guess what %j means", (typed) => {
    expect(refusal(volts, typed)).toMatch(/leave it out/);
    expect(refusal(optionalNumberFrom(-1e9, 1e9, "V"), typed)).toMatch(/leave it out/);
  });

  it("takes both ends of its range and nothing beyond", () => {
    const litres = numberFrom(1, 20, "L");
    expect(litres.parse("1")).toBe(1);
    expect(litres.parse("20")).toBe(20);
    expect(refusal(litres, "0.999")).toBe("Expected a number from 1 to 20 L.");
    expect(refusal(litres, "20.001")).toBe("Expected a number from 1 to 20 L.");
  });

  it("asks for a field that is missing", () => {
    expect(refusal(volts, undefined)).toBe("Enter a number from -5 to 2000000 V.");
  });

  it("reads back every number that a form fills in", () => {
    const any = numberFrom(-Number.MAX_VALUE, Number.MAX_VALUE, "");
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        // String(-0) is "0".
        expect(any.parse(String(value))).toBe(value + 0);
      }),
    );
  });
});

describe("optionalNumberFrom", () => {
  const grams = optionalNumberFrom(0, 10, "g");

  it("takes nothing for null, and zero for zero", () => {
    expect(grams.parse("")).toBeNull();
    expect(grams.parse("  ")).toBeNull();
    expect(grams.parse(undefined)).toBeNull();
    expect(grams.parse("0")).toBe(0);
    expect(grams.parse("2,5")).toBe(2.5);
  });

  it.each(["11", "-1", "ten"])("refuses %j", (typed) => {
    expect(refusal(grams, typed)).toBe("Expected a number from 0 to 10 g, or nothing.");
  });
});

describe("measureFrom", () => {
  it("reads a measure of either system into its stored unit", () => {
    expect(measureFrom("length", 1, 10_000, "US").parse(" 1 1/2 in ")).toBe(38.1);
    expect(measureFrom("length", 1, 10_000, "US").parse("1 1/2")).toBe(38.1);
    expect(measureFrom("length", 1, 10_000, "METRIC").parse("38.1")).toBe(38.1);
    expect(measureFrom("temperature", 0, 60, "METRIC").parse("68 °F")).toBe(20);
  });

  it("takes both ends of its range and nothing beyond", () => {
    const level = measureFrom("length", 25.4, 254, "US");
    expect(level.parse("1")).toBe(25.4);
    expect(level.parse("10")).toBe(254);
    expect(refusal(level, "0.99")).toBe("Expected a number from 1 to 10 in.");
    expect(refusal(level, "26 cm")).toBe("Expected a number from 1 to 10 in.");
  });

  it("says its range in the units of who types", () => {
    const said = (units: "METRIC" | "US"): string | undefined =>
      refusal(measureFrom("temperature", 0, 60, units), "");
    expect(said("METRIC")).toBe("Enter a number from 0 to 60 °C.");
    expect(said("US")).toBe("Enter a number from 32 to 140 °F.");
    expect(refusal(measureFrom("section", 0.1, 200, "US"), undefined)).toBe(
      "Enter a number from 0.1 to 200 mm².",
    );
  });

  it("says what is wrong with what is no measure of its kind", () => {
    expect(refusal(measureFrom("length", 1, 10, "US"), "2 gal")).toMatch(
      /^“2 gal” is not a length/,
    );
    expect(refusal(measureFrom("length", 1, 10, "US"), "1,234")).toMatch(/leave it out/);
  });

  it("may be left empty only where it is optional", () => {
    const level = optionalMeasureFrom("length", 1, 1000, "METRIC");
    expect(level.parse("")).toBeNull();
    expect(level.parse("  ")).toBeNull();
    expect(level.parse(undefined)).toBeNull();
    expect(level.parse("10 in")).toBe(254);
    expect(refusal(level, "0")).toBe("Expected a number from 1 to 1000 mm.");
    expect(refusal(measureFrom("length", 1, 9, "US"), " ")).toMatch(/^Enter a number from/);
  });
});

describe("day", () => {
  it("is midnight UTC of its date", () => {
    expect(day.parse("2030-01-07")).toEqual(new Date("2030-01-07T00:00:00.000Z"));
    expect(day.parse("2028-02-29")).toEqual(new Date("2028-02-29T00:00:00.000Z"));
    expect(optionalDay.parse("2030-01-07")).toEqual(new Date("2030-01-07T00:00:00.000Z"));
  });

  it.each(["2030-02-30", "2030-02-29", "2030-04-31", "2030-13-01", "2030-00-10", "2030-01-00"])(
    "refuses %s, which does not exist",
    (typed) => {
      expect(refusal(day, typed)).toBe("Choose a day that exists.");
      expect(refusal(optionalDay, typed)).toBe("Choose a day that exists.");
    },
  );

  it.each(["7.1.2030", "2030-1-7", "0000-01-01", "0203-01-01", "2030-01-07T10:00", "tomorrow"])(
    "refuses %j, which is not what a date field sends",
    (typed) => {
      expect(refusal(day, typed)).toBe("Choose a day.");
      expect(refusal(optionalDay, typed)).toBe("Choose a day.");
    },
  );

  it("may be missing only where it is optional", () => {
    expect(refusal(day, "")).toBe("Choose a day.");
    expect(refusal(day, undefined)).toBe("Choose a day.");
    expect(optionalDay.parse("")).toBeNull();
    expect(optionalDay.parse(undefined)).toBeNull();
  });
});

describe("text", () => {
  it("loses the space around it", () => {
    expect(text("a name").parse("  Ada ")).toBe("Ada");
    expect(optionalText().parse(undefined)).toBe("");
  });

  it.each(["", "   ", undefined])("refuses %j, asking for what is missing", (typed) => {
    expect(refusal(text("a name"), typed)).toBe("Enter a name.");
  });

  it("has a longest length", () => {
    expect(text("a name", 3).parse("abc")).toBe("abc");
    expect(refusal(text("a name", 3), "abcd")).toBe("At most 3 characters.");
    expect(refusal(optionalText(3), "abcd")).toBe("At most 3 characters.");
  });

  it("refuses the one character that the database cannot keep", () => {
    expect(refusal(text("a name"), "a\0b")).toMatch(/cannot be kept/);
    expect(refusal(optionalText(), "a\0b")).toMatch(/cannot be kept/);
  });
});

describe("email", () => {
  it("is kept in lower case, without space around it", () => {
    expect(email.parse(" Ada@Example.ORG ")).toBe("ada@example.org");
    expect(optionalEmail.parse("Ada@Example.ORG")).toBe("ada@example.org");
    expect(optionalEmail.parse("")).toBe("");
  });

  it.each(["ada", "ada@", "@example.org", "a b@example.org", "a\0@example.org", "", undefined])(
    "refuses %j",
    (typed) => {
      expect(refusal(email, typed)).toMatch(/^Enter an e-mail address/);
    },
  );

  it("refuses one that is longer than any can be", () => {
    expect(refusal(email, `${"a".repeat(250)}@example.org`)).toBe("At most 254 characters.");
  });
});

describe("ticked", () => {
  it("is whether the box was sent", () => {
    expect(ticked.parse("on")).toBe(true);
    expect(ticked.parse(undefined)).toBe(false);
  });
});

describe("id", () => {
  it("is a UUID", () => {
    const uuid = "6f1b9a52-3a53-4b86-9d0f-0c4bb1c3f0aa";
    expect(id.parse(uuid)).toBe(uuid);
    expect(refusal(id, "1; DROP TABLE person")).toMatch(/out of date/);
  });
});

describe("newPassword", () => {
  it("is taken as typed, space and all", () => {
    expect(newPassword.parse(" four quiet words ")).toBe(" four quiet words ");
  });

  it("is neither short nor endless", () => {
    expect(refusal(newPassword, "ninechars")).toMatch(/^At least 10 characters/);
    expect(refusal(newPassword, "x".repeat(201))).toBe("At most 200 characters.");
    expect(refusal(newPassword, undefined)).toBe("Choose a password.");
  });
});
