import { type ByCause, type Cause, CAUSE_WORDS, CAUSES, normalised } from "./causes";

/** What every step at the tank begins with once something is to be touched. */
export const OFF_FIRST = "Switch the supply off at the wall before touching a clip.";

/** How near a check brings somebody to the tank, safest first. */
export const CHECK_TIERS = ["look", "switch off", "touch"] as const;
export type CheckTier = (typeof CHECK_TIERS)[number];

type Outcome = {
  readonly code: string;
  readonly words: string;
  /** how often it comes out so under a cause, 0 to 1; the others as under `else` */
  readonly often: Readonly<Partial<Record<Cause, number>>> & { readonly else: number };
};

/** One thing to look at, in words, and how it may come out. The shares of its outcomes add up to 1 under each cause. */
export type Check = {
  readonly code: string;
  readonly tier: CheckTier;
  readonly ask: string;
  readonly outcomes: readonly Outcome[];
};

/** A check with two outcomes, told by how often it comes out the first way. */
function either(
  code: string,
  tier: CheckTier,
  ask: string,
  bad: Outcome,
  good: { readonly code: string; readonly words: string },
): Check {
  const often: Partial<Record<Cause, number>> = {};
  for (const cause of CAUSES) {
    const share = bad.often[cause];
    if (share !== undefined) often[cause] = 1 - share;
  }
  return {
    code,
    tier,
    ask,
    outcomes: [bad, { ...good, often: { ...often, else: 1 - bad.often.else } }],
  };
}

/** The checks, safest first. How often each comes out how is assumption: wide on purpose, for eyes can be wrong. */
export const CHECKS: readonly Check[] = [
  either(
    "METER",
    "look",
    "Watch the meter for a minute, hands off. Does the current stay where it is?",
    {
      code: "jumps",
      words: "It jumps about",
      often: { POOR_CONTACT: 0.75, TOUCHING: 0.35, LEAD_CORRODED: 0.2, else: 0.05 },
    },
    { code: "steady", words: "Steady" },
  ),
  either(
    "SUPPLY",
    "look",
    "Look at the supply: is its lamp on, and its plug in?",
    {
      code: "off",
      words: "Off or tripped",
      often: { SUPPLY_OFF: 0.93, TOUCHING: 0.05, else: 0.02 },
    },
    { code: "on", words: "On" },
  ),
  either(
    "LEVEL",
    "look",
    "Look at the level: does it stand at its mark?",
    { code: "low", words: "Clearly below it", often: { LEVEL_FALLEN: 0.96, else: 0.06 } },
    { code: "fine", words: "At the mark" },
  ),
  either(
    "GAP",
    "look",
    "Look down from the side, without leaning over the bath: is there a clear gap between part and anode all round?",
    {
      code: "none",
      words: "They touch, or nearly",
      often: { TOUCHING: 0.88, BATH_STRONG: 0.15, else: 0.03 },
    },
    { code: "clear", words: "Clear all round" },
  ),
  either(
    "LEADS",
    "look",
    "Follow the leads by eye: does the negative one go to the part?",
    { code: "wrong", words: "No, to the anode", often: { REVERSED: 0.95, else: 0.01 } },
    { code: "right", words: "Yes, to the part" },
  ),
  either(
    "SLUDGE",
    "look",
    "Look at the bath: dark sludge, or foam that stands?",
    {
      code: "dark",
      words: "Dark or foaming",
      often: { BATH_SPENT: 0.85, ANODE_WORN: 0.3, else: 0.15 },
    },
    { code: "clear", words: "Clear or merely rusty" },
  ),
  {
    code: "CONDUCTIVITY",
    tier: "switch off",
    ask: "Take a cup of the bath with gloves on and dip the conductivity meter into it. Against the plan, is it",
    outcomes: [
      {
        code: "low",
        words: "Too low",
        often: { BATH_WEAK: 0.92, BATH_STRONG: 0.01, BATH_SPENT: 0.12, else: 0.05 },
      },
      {
        code: "high",
        words: "Too high",
        often: { BATH_STRONG: 0.9, BATH_WEAK: 0.01, BATH_SPENT: 0.03, else: 0.05 },
      },
      {
        code: "right",
        words: "About right",
        often: { BATH_WEAK: 0.07, BATH_STRONG: 0.09, BATH_SPENT: 0.85, else: 0.9 },
      },
    ],
  },
  either(
    "CLAMP",
    "touch",
    "Look at the positive clamp and the end of its lead: bright and tight?",
    {
      code: "green",
      words: "Green, thinned or loose",
      often: { LEAD_CORRODED: 0.9, LEAD_OPEN: 0.85, else: 0.12 },
    },
    { code: "bright", words: "Bright and tight" },
  ),
  either(
    "CLIP",
    "touch",
    "Scrape a bright spot under the part's clip and clamp it again. With hands off, switch on: does the current come back?",
    {
      code: "back",
      words: "It comes back",
      often: { POOR_CONTACT: 0.9, LEAD_OPEN: 0.15, else: 0.05 },
    },
    { code: "same", words: "As before" },
  ),
  {
    code: "ANODE",
    tier: "touch",
    ask: "Lift the anode out and look at it: what is its face like?",
    outcomes: [
      {
        code: "scaled",
        words: "Hard dark scale",
        often: { ANODE_PASSIVE: 0.85, ANODE_WORN: 0.08, BATH_SPENT: 0.35, else: 0.15 },
      },
      {
        code: "thin",
        words: "Thin or eaten away",
        often: { ANODE_PASSIVE: 0.05, ANODE_WORN: 0.88, BATH_SPENT: 0.1, else: 0.06 },
      },
      {
        code: "sound",
        words: "Thick, and bright or rusty",
        often: { ANODE_PASSIVE: 0.1, ANODE_WORN: 0.04, BATH_SPENT: 0.55, else: 0.79 },
      },
    ],
  },
];

/** What a person answered: the check's code to the outcome's. */
export type Answers = Readonly<Record<string, string>>;

/** A check that was answered, in words. */
export type Answered = { readonly check: Check; readonly outcome: Outcome };

const oftenUnder = ({ often }: Outcome, cause: Cause): number => often[cause] ?? often.else;

/** The answers that name a check and one of its outcomes; others are left out. */
export function knownAnswers(answers: Answers): readonly Answered[] {
  return CHECKS.flatMap((check) => {
    const outcome = check.outcomes.find(({ code }) => code === answers[check.code]);
    return outcome ? [{ check, outcome }] : [];
  });
}

/** Probabilities after a check came out so. */
export function afterOutcome(probability: ByCause, outcome: Outcome): ByCause {
  return normalised((cause) => probability[cause] * oftenUnder(outcome, cause));
}

/** One way in which a check may come out, and where that leads. */
export type Prospect = {
  readonly code: string;
  readonly words: string;
  /** chance that it comes out so, 0 to 1 */
  readonly chance: number;
  /** what is then the likeliest, and how likely */
  readonly points: { readonly title: string; readonly probability: number };
};

export type NextCheck = {
  readonly code: string;
  readonly tier: CheckTier;
  /** what to do in words, the supply off first where something is touched */
  readonly words: string;
  /** expected information, bit */
  readonly bits: number;
  readonly prospects: readonly Prospect[];
};

/** A safer check is preferred while it tells at least this share of what the best one tells. */
const GOOD_ENOUGH = 0.6;
/** Below it a check tells nothing worth the walk. */
const LEAST_BITS = 0.03;

/**
 * The one check to make next: of those that tell much, the safest; of equally safe ones, the one that tells most.
 *
 * What a check tells is the information it is expected to give on the cause (Shannon's, in bits).
 *
 * @returns null when no check left tells anything
 */
export function nextCheck(probability: ByCause, done: readonly Answered[]): NextCheck | null {
  const open = CHECKS.filter(({ code }) => !done.some(({ check }) => check.code === code));
  const told = open.map((check) => ({ check, bits: expectedBits(probability, check) }));
  const most = Math.max(0, ...told.map(({ bits }) => bits));
  if (most < LEAST_BITS) return null;
  const good = told.filter(({ bits }) => bits >= GOOD_ENOUGH * most);
  const tier = CHECK_TIERS.find((safe) => good.some(({ check }) => check.tier === safe));
  const [best] = good
    .filter(({ check }) => check.tier === tier)
    .sort((one, other) => other.bits - one.bits);
  return best ? inWords(probability, best.check, best.bits) : null;
}

function expectedBits(probability: ByCause, check: Check): number {
  const left = check.outcomes.reduce(
    (sum, outcome) =>
      sum + chanceOf(probability, outcome) * entropyBits(afterOutcome(probability, outcome)),
    0,
  );
  return entropyBits(probability) - left;
}

function chanceOf(probability: ByCause, outcome: Outcome): number {
  return CAUSES.reduce((sum, cause) => sum + probability[cause] * oftenUnder(outcome, cause), 0);
}

function entropyBits(probability: ByCause): number {
  return CAUSES.reduce((sum, cause) => {
    const share = probability[cause];
    return share > 0 ? sum - share * Math.log2(share) : sum;
  }, 0);
}

function inWords(probability: ByCause, check: Check, bits: number): NextCheck {
  return {
    code: check.code,
    tier: check.tier,
    words: check.tier === "look" ? check.ask : `${OFF_FIRST} ${check.ask}`,
    bits,
    prospects: check.outcomes.map((outcome) => {
      const after = afterOutcome(probability, outcome);
      const top = likeliest(after);
      return {
        code: outcome.code,
        words: outcome.words,
        chance: chanceOf(probability, outcome),
        points: { title: CAUSE_WORDS[top].title, probability: after[top] },
      };
    }),
  };
}

/** The most probable cause; of equals, the one that is listed first. */
export function likeliest(probability: ByCause): Cause {
  return CAUSES.reduce((best, cause) => (probability[cause] > probability[best] ? cause : best));
}
