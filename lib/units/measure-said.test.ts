import { describe, expect, it } from "vitest";
import { said } from "./measure-said";

describe("a sentence with measures in braces", () => {
  it.each([
    ["Fill up with {12 L} of water.", "Fill up with 3.17 US gal of water."],
    [
      "{250 × 65 mm} on the floor, {45.5 mm} high",
      "9 13/16 × 2 9/16 in on the floor, 1 13/16 in high",
    ],
    ["baked at {190 to 220 °C}", "baked at 374 to 428 °F"],
    ["baked at {190–220 °C}", "baked at 374–428 °F"],
    ["{300 ± 5 g} of soda", "10.6 ± 0.176 oz of soda"],
    ["{2 kg}", "4.41 lb"],
    ["below {-4 °C}", "below 24.8 °F"],
    ["{0 mm} and {0.5 mm}", "0 in and 0.0197 in"],
    ["more than {50 A/m²}", "more than 4.65 A/ft²"],
    ["leads of {4 mm²}", "leads of 4 mm²"],
    ["from {0 to 60 V}", "from 0 to 60 V"],
  ])("%j is said as %j in the US, and without braces elsewhere", (sentence, us) => {
    expect(said(sentence, "US")).toBe(us);
    expect(said(sentence, "METRIC")).toBe(sentence.replace(/[{}]/g, ""));
  });

  it("keeps what is no measure of ours", () => {
    for (const sentence of ["60 L tub", "{three} pieces", "{4}", "{}", "{ 12 V }"]) {
      expect(said(sentence, "US")).toBe(sentence);
    }
  });
});
