import { describe, expect, it } from "vitest";
import { amps, likelihoodWord, percent, volts } from "./words";

describe("words", () => {
  it("give currents under an ampere two places, and one from there on", () => {
    expect([0, 0.99, 1, 12.34, -0.5, -3].map(amps)).toEqual([
      "0.00 A",
      "0.99 A",
      "1.0 A",
      "12.3 A",
      "-0.50 A",
      "-3.0 A",
    ]);
    expect(volts(12.46)).toBe("12.5 V");
  });

  it("never round a chance to none or to certainty", () => {
    expect([0, 0.004, 0.01, 0.345, 0.99, 0.996, 1].map(percent)).toEqual([
      "0 %",
      "under 1 %",
      "1 %",
      "35 %",
      "99 %",
      "over 99 %",
      "100 %",
    ]);
  });

  it.each([
    [0.95, "almost sure"],
    [0.949, "likely"],
    [0.7, "likely"],
    [0.699, "perhaps"],
    [0.3, "perhaps"],
    [0.299, "less likely"],
    [0.1, "less likely"],
    [0.099, "hardly"],
  ])("say of %d: %s", (probability, word) => {
    expect(likelihoodWord(probability)).toBe(word);
  });
});
