import { describe, expect, it } from "vitest";
import { CAUSE_WORDS, CAUSES, normalised } from "./causes";
import { CHECKS } from "./checks";

describe("the words of causes and checks", () => {
  it.each(CAUSES)("of %s say what it is, what the meter shows and how it is put right", (cause) => {
    const { title, shows, mend } = CAUSE_WORDS[cause];
    expect(title).toMatch(/^[A-Z].*\w$/);
    expect(shows).toMatch(/^[A-Z].{20,}\.$/s);
    expect(mend).toMatch(/^[A-Z].{20,}\.$/s);
  });

  it("are no two alike", () => {
    for (const part of ["title", "shows", "mend"] as const) {
      expect(new Set(CAUSES.map((cause) => CAUSE_WORDS[cause][part])).size).toBe(CAUSES.length);
    }
    expect(new Set(CHECKS.map(({ code }) => code)).size).toBe(CHECKS.length);
    for (const { outcomes } of CHECKS) {
      expect(new Set(outcomes.map(({ code }) => code)).size).toBe(outcomes.length);
    }
  });

  it("keep hands and part safe", () => {
    expect(CAUSE_WORDS.REVERSED.mend).toMatch(/part must be on the negative one, or it is eaten/);
    expect(CAUSE_WORDS.TOUCHING.mend).toMatch(/part them by {50 mm}/);
    expect(CAUSE_WORDS.SUPPLY_OFF.mend).toMatch(/cool.*touch between part and anode/);
    expect(CAUSE_WORDS.LEVEL_FALLEN.mend).toMatch(/plain water: soda does not evaporate/);
    const ask = (code: string): string => CHECKS.find((check) => check.code === code)?.ask ?? "";
    expect(ask("METER")).toMatch(/hands off/);
    expect(ask("GAP")).toMatch(/without leaning over the bath/);
    expect(ask("CONDUCTIVITY")).toMatch(/gloves on/);
    expect(ask("CLIP")).toMatch(/With hands off, switch on/);
  });

  it("ask a question and take an answer in words", () => {
    for (const { ask, outcomes } of CHECKS) {
      expect(ask).toMatch(/(\?|is it)$/);
      expect(outcomes.length).toBeGreaterThan(1);
      for (const { code, words } of outcomes) {
        expect(code).toMatch(/^[a-z]+$/);
        expect(words).toMatch(/^[A-Z]\w+/);
      }
    }
  });

  it("reach hands into the bath only where the supply is off first", () => {
    for (const { tier, ask } of CHECKS) {
      if (tier === "look") expect(ask).not.toMatch(/lift|scrape|take|clamp again/i);
    }
  });
});

describe("normalised", () => {
  it("divides weights by their sum", () => {
    const shares = normalised((cause) => (cause === "TOUCHING" ? 3 : cause === "REVERSED" ? 1 : 0));
    expect([shares.TOUCHING, shares.REVERSED, shares.BATH_WEAK]).toEqual([0.75, 0.25, 0]);
    expect(Object.keys(shares)).toEqual([...CAUSES]);
  });
});
