import { describe, expect, it } from "vitest";
import { type ByCause, type Cause, CAUSES, normalised } from "./causes";
import { afterOutcome, CHECKS, knownAnswers, likeliest, nextCheck } from "./checks";

/** Probabilities of the causes named, nothing for the others. */
const believing = (shares: Partial<Record<Cause, number>>): ByCause =>
  normalised((cause) => shares[cause] ?? 0);
const checkOf = (code: string) => knownAnswers({ [code]: outcomeOf(code) });
const outcomeOf = (code: string): string =>
  CHECKS.find((check) => check.code === code)?.outcomes[0]?.code ?? "";

describe("CHECKS", () => {
  it.each(CHECKS.map((check) => [check.code, check] as const))(
    "%s comes out one way or another, whatever is the matter",
    (_code, { outcomes }) => {
      for (const cause of CAUSES) {
        const chances = outcomes.map(({ often }) => often[cause] ?? often.else);
        expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
        for (const chance of chances) expect(chance).toBeGreaterThan(0);
      }
    },
  );

  it("stand safest first", () => {
    const order = ["look", "switch off", "touch"];
    const tiers = CHECKS.map(({ tier }) => order.indexOf(tier));
    expect(tiers).toEqual([...tiers].sort());
  });
});

describe("knownAnswers", () => {
  it("takes the answers that there are, and leaves the others out", () => {
    const known = knownAnswers({ METER: "jumps", CLIP: "maybe", NOTHING: "x" });
    expect(known.map(({ check, outcome }) => [check.code, outcome.words])).toEqual([
      ["METER", "It jumps about"],
    ]);
    expect(knownAnswers({})).toEqual([]);
  });
});

describe("afterOutcome", () => {
  it("weighs each cause by how often it comes out so", () => {
    const [jumps] = knownAnswers({ METER: "jumps" });
    if (!jumps) throw new Error("METER has that outcome");
    const before = believing({ POOR_CONTACT: 0.5, BATH_WEAK: 0.5 });
    // 0.75 against 0.05
    expect(afterOutcome(before, jumps.outcome).POOR_CONTACT).toBeCloseTo(0.75 / 0.8, 9);
    const [steady] = knownAnswers({ METER: "steady" });
    if (!steady) throw new Error("METER has that outcome");
    expect(afterOutcome(before, steady.outcome).POOR_CONTACT).toBeCloseTo(0.25 / 1.2, 9);
  });
});

describe("nextCheck", () => {
  it.each<[Cause, Cause, string]>([
    ["BATH_WEAK", "POOR_CONTACT", "METER"],
    ["SUPPLY_OFF", "AS_IT_SHOULD", "SUPPLY"],
    ["LEVEL_FALLEN", "LEAD_CORRODED", "LEVEL"],
    ["TOUCHING", "AS_IT_SHOULD", "GAP"],
    ["REVERSED", "AS_IT_SHOULD", "LEADS"],
    ["BATH_SPENT", "BATH_WEAK", "SLUDGE"],
    ["BATH_STRONG", "AS_IT_SHOULD", "CONDUCTIVITY"],
    ["LEAD_OPEN", "AS_IT_SHOULD", "CLAMP"],
    ["ANODE_PASSIVE", "ANODE_WORN", "ANODE"],
  ])("tells %s from %s", (one, other, code) => {
    expect(nextCheck(believing({ [one]: 0.5, [other]: 0.5 }), [])?.code).toBe(code);
  });

  it("prefers a look to a touch that tells not much more", () => {
    const torn = believing({ POOR_CONTACT: 0.5, ANODE_PASSIVE: 0.5 });
    expect(nextCheck(torn, [])).toMatchObject({ code: "METER", tier: "look" });
    const looked = nextCheck(torn, checkOf("METER"));
    expect(looked).toMatchObject({ code: "CLIP", tier: "touch" });
    expect(looked?.words).toMatch(
      /^Switch the supply off at the wall before touching a clip\. Scrape/,
    );
  });

  it("measures what it would tell in bits", () => {
    // Even odds, told apart by a look that sees 0.96 against 0.06: 1 bit less what is left.
    const h = (p: number): number => -p * Math.log2(p) - (1 - p) * Math.log2(1 - p);
    const low = 0.51;
    const left = low * h(0.48 / low) + (1 - low) * h(0.02 / (1 - low));
    const next = nextCheck(believing({ LEVEL_FALLEN: 0.5, BATH_WEAK: 0.5 }), []);
    expect(next?.code).toBe("LEVEL");
    expect(next?.bits).toBeCloseTo(1 - left, 9);
  });

  it("says where each outcome would lead, and how often it comes", () => {
    const next = nextCheck(believing({ LEVEL_FALLEN: 0.5, BATH_WEAK: 0.5 }), []);
    expect(next?.prospects).toEqual([
      {
        code: "low",
        words: "Clearly below it",
        chance: expect.closeTo(0.51, 9),
        points: { title: "Level fallen", probability: expect.closeTo(0.48 / 0.51, 9) },
      },
      {
        code: "fine",
        words: "At the mark",
        chance: expect.closeTo(0.49, 9),
        points: { title: "Weak bath", probability: expect.closeTo(0.47 / 0.49, 9) },
      },
    ]);
  });

  it("ends where nothing is left to tell", () => {
    expect(nextCheck(believing({ BATH_WEAK: 1 }), [])).toBeNull();
    const all = CHECKS.flatMap(({ code }) => checkOf(code));
    expect(nextCheck(believing({ BATH_WEAK: 0.5, POOR_CONTACT: 0.5 }), all)).toBeNull();
  });
});

describe("likeliest", () => {
  it("is the most probable, and of equals the first listed", () => {
    expect(likeliest(believing({ BATH_WEAK: 0.4, BATH_SPENT: 0.6 }))).toBe("BATH_SPENT");
    expect(likeliest(believing({ BATH_WEAK: 0.5, BATH_SPENT: 0.5 }))).toBe("BATH_WEAK");
  });
});
