import { continuousRating, openVoltage, type Supply } from "@/lib/electrolysis";
import { DIAGNOSIS_LIMITS, type Expectation, type Finding, type RunReading } from "./expectation";

const OFF_FIRST = "Switch the supply off at the wall before touching a clip.";

/** Looks at the latest reading, with all of them in order of time; null when there is nothing to say. */
type Rule = (
  latest: RunReading,
  expected: Expectation,
  readings: readonly RunReading[],
) => Finding | null;

/**
 * What is likely wrong with a run, from its readings against what the tank should show.
 *
 * First rules, each a plain threshold from `DIAGNOSIS_LIMITS` (common practice, no source). One cause of a wrong
 * current is named: the first that fits in the order reversed, short, open lead, no supply, overload, falling,
 * spent, weak, strong. Heat, cold and level are judged beside it.
 *
 * @param readings of one run, in any order; none gives no finding
 * @returns "look now" before "watch"; empty when all is as expected
 * @throws RangeError if the expected band is not 0 ≤ low ≤ high
 * @example diagnose(readings, expected)[0]?.title // "Positive lead open"
 */
export function diagnose(
  readings: readonly RunReading[],
  expected: Expectation,
): readonly Finding[] {
  checkBand(expected);
  const inOrder = [...readings].sort((a, b) => a.atMs - b.atMs);
  const latest = inOrder.at(-1);
  if (!latest) return [];
  const current = firstFinding(CURRENT_RULES, latest, expected, inOrder);
  const others = BATH_RULES.map((rule) => rule(latest, expected, inOrder));
  const findings = [current, ...others].filter((finding) => finding !== null);
  return [
    ...findings.filter(({ severity }) => severity === "look now"),
    ...findings.filter(({ severity }) => severity === "watch"),
  ];
}

function firstFinding(
  rules: readonly Rule[],
  latest: RunReading,
  expected: Expectation,
  readings: readonly RunReading[],
): Finding | null {
  for (const rule of rules) {
    const finding = rule(latest, expected, readings);
    if (finding) return finding;
  }
  return null;
}

const reversed: Rule = ({ currentA, voltsV }) =>
  currentA < 0 || voltsV < 0
    ? {
        code: "REVERSED",
        severity: "look now",
        title: "Leads reversed",
        seen: `The meter shows ${volts(voltsV)} and ${amps(currentA)}: below zero.`,
        nextCheck: `${OFF_FIRST} The part must be on the negative lead; the other way round it is eaten.`,
      }
    : null;

const short: Rule = ({ currentA, voltsV }, { currentLowA, currentHighA, supply }) => {
  const open = openVoltage(supply);
  const wayOver =
    voltsV < DIAGNOSIS_LIMITS.lowVoltsShare * open &&
    currentA >= DIAGNOSIS_LIMITS.shortTimes * currentHighA;
  // A supply that holds its current shows a touch by its volts alone: too few to split water.
  const tooFewVolts =
    voltsV < DIAGNOSIS_LIMITS.touchVoltsV &&
    currentA >= currentLowA &&
    currentA > DIAGNOSIS_LIMITS.noCurrentA;
  return wayOver || tooFewVolts
    ? {
        code: "SHORT",
        severity: "look now",
        title: "Part touching the anode",
        seen: `${amps(currentA)} at only ${volts(voltsV)}; at most ${amps(currentHighA)} expected, and the supply gives ${volts(open)} unloaded.`,
        nextCheck: `${OFF_FIRST} Then look where part, hanger or clip meets the anode, and part them by 50 mm.`,
      }
    : null;
};

const openLead: Rule = ({ currentA, voltsV }, { currentLowA, supply }) => {
  const full = voltsV >= DIAGNOSIS_LIMITS.fullVoltsShare * openVoltage(supply);
  return full && flowsNothing(currentA, currentLowA)
    ? {
        code: "OPEN_LEAD",
        severity: "look now",
        title: "Positive lead open",
        seen: `${amps(currentA)} at the full ${volts(voltsV)}; at least ${amps(currentLowA)} expected.`,
        nextCheck: `${OFF_FIRST} Then follow the positive lead to the anode: its clamp corrodes through first, above all if the bath wets it. Next, the clip on the part.`,
      }
    : null;
};

const noSupply: Rule = ({ currentA, voltsV }, { currentLowA }) =>
  voltsV < DIAGNOSIS_LIMITS.noVoltsV && flowsNothing(currentA, currentLowA)
    ? {
        code: "NO_SUPPLY",
        severity: "look now",
        title: "Supply off or tripped",
        seen: `${volts(voltsV)} and ${amps(currentA)} at the supply.`,
        nextCheck: `${OFF_FIRST} Let it cool, look for a touch between part and anode, then see whether it starts again.`,
      }
    : null;

const overload: Rule = ({ currentA }, { supply }) => {
  const rated = ratedCurrent(supply);
  const lasting = continuousRating(supply);
  if (currentA <= lasting) return null;
  const over = currentA > rated;
  return {
    code: "OVERLOAD",
    severity: over ? "look now" : "watch",
    title: over ? "Supply overloaded" : "Supply above what it can give for hours",
    seen: `${amps(currentA)}; rated ${amps(rated)}, ${amps(lasting)} without end.`,
    nextCheck: over
      ? `${OFF_FIRST} Then look for a touch between part and anode; if there is none, thin the bath with water or take out a part.`
      : "Feel the supply without opening it. If it is hot, switch it off and thin the bath with water.",
  };
};

const falling: Rule = (latest, { currentLowA }, readings) => {
  const recent = readings.slice(-DIAGNOSIS_LIMITS.fallReadings);
  const first = recent[0];
  if (!first || recent.length < DIAGNOSIS_LIMITS.fallReadings) return null;
  const minutes = (latest.atMs - first.atMs) / 60_000;
  const steady = recent.every(({ currentA }, index) => {
    const before = recent[index - 1];
    return !before || currentA < before.currentA;
  });
  const voltsHeld = latest.voltsV >= DIAGNOSIS_LIMITS.fullVoltsShare * first.voltsV;
  const lost = 1 - latest.currentA / first.currentA;
  if (!steady || !voltsHeld || minutes < DIAGNOSIS_LIMITS.fallMinutes) return null;
  if (lost < DIAGNOSIS_LIMITS.fallShare) return null;
  return {
    code: "FALLING",
    severity: latest.currentA < currentLowA / 2 ? "look now" : "watch",
    title: "Anode passivated or positive lead corroding",
    seen: `From ${amps(first.currentA)} to ${amps(latest.currentA)} in ${minutes.toFixed(0)} min at ${volts(latest.voltsV)}.`,
    nextCheck: `${OFF_FIRST} Then look at the positive clamp: green or thinned means the lead. If it is sound, lift the anode and brush off the scale.`,
  };
};

const spentOrWeak: Rule = ({ currentA, voltsV }, { currentLowA, bathChargeAhPerL }) => {
  if (currentA >= currentLowA * (1 - DIAGNOSIS_LIMITS.bandMarginShare)) return null;
  const seen = `${amps(currentA)} at ${volts(voltsV)}; at least ${amps(currentLowA)} expected.`;
  if (bathChargeAhPerL >= DIAGNOSIS_LIMITS.spentAhPerL) {
    return {
      code: "BATH_SPENT",
      severity: "watch",
      title: "Bath spent",
      seen: `${seen} This bath has passed ${bathChargeAhPerL.toFixed(0)} A·h for each litre.`,
      nextCheck:
        "Look for dark sludge and standing foam. With the supply off, let it settle and strain it, or mix a new bath.",
    };
  }
  return {
    code: "BATH_WEAK",
    severity: "watch",
    title: "Weak bath or poor contact",
    seen,
    nextCheck:
      "With the supply off, scrape a bright spot under the part's clip and clamp it again. If the current stays low, weigh in a little more soda.",
  };
};

const strong: Rule = ({ currentA, voltsV }, { currentHighA }) =>
  currentA > currentHighA * (1 + DIAGNOSIS_LIMITS.bandMarginShare)
    ? {
        code: "BATH_STRONG",
        severity: "watch",
        title: "Bath stronger or part nearer than planned",
        seen: `${amps(currentA)} at ${volts(voltsV)}; at most ${amps(currentHighA)} expected.`,
        nextCheck:
          "See that the part hangs clear of the anode by 50 mm. If it does, thin the bath with water.",
      }
    : null;

const heat: Rule = ({ temperatureC }) => {
  if (temperatureC === null) return null;
  const seen = `The bath is at ${temperatureC.toFixed(0)} °C.`;
  if (temperatureC > DIAGNOSIS_LIMITS.warmC) {
    const hot = temperatureC > DIAGNOSIS_LIMITS.hotC;
    return {
      code: "HOT",
      severity: hot ? "look now" : "watch",
      title: hot ? "Bath too hot" : "Bath getting hot",
      seen,
      nextCheck: `${OFF_FIRST} Let it cool below ${DIAGNOSIS_LIMITS.warmC} °C; then look for a touch or too strong a bath.`,
    };
  }
  if (temperatureC >= DIAGNOSIS_LIMITS.coldC) return null;
  return {
    code: "COLD",
    severity: "watch",
    title: "Bath too cold",
    seen,
    nextCheck: "Expect less current and longer hours. Look for crystals of soda on the bottom.",
  };
};

const level: Rule = ({ levelMm }, { workingLevelMm }) => {
  if (levelMm === null) return null;
  const missing = workingLevelMm - levelMm;
  if (missing < DIAGNOSIS_LIMITS.levelWatchMm) return null;
  const now = missing >= DIAGNOSIS_LIMITS.levelNowMm;
  return {
    code: "LEVEL_LOW",
    severity: now ? "look now" : "watch",
    title: "Level low",
    seen: `${levelMm.toFixed(0)} mm, ${missing.toFixed(0)} mm under the working level.`,
    nextCheck: `${OFF_FIRST} Look under the tank for a leak, then top up with plain water: soda does not evaporate.`,
  };
};

const CURRENT_RULES: readonly Rule[] = [
  reversed,
  short,
  openLead,
  noSupply,
  overload,
  falling,
  spentOrWeak,
  strong,
];
const BATH_RULES: readonly Rule[] = [heat, level];

function flowsNothing(currentA: number, expectedLowA: number): boolean {
  return currentA <= Math.min(DIAGNOSIS_LIMITS.noCurrentA, expectedLowA / 2);
}

/** What the supply can give for a while, A. */
function ratedCurrent(supply: Supply): number {
  switch (supply.kind) {
    case "CHARGER":
      return supply.ratedCurrentA;
    case "BENCH":
      return supply.currentLimitA;
    case "BATTERY":
      return continuousRating(supply);
  }
}

function checkBand({ currentLowA, currentHighA }: Expectation): void {
  if (!(currentLowA >= 0 && currentHighA >= currentLowA && Number.isFinite(currentHighA))) {
    throw new RangeError(
      `expected current must be a band 0 ≤ low ≤ high in A, got ${currentLowA} to ${currentHighA}`,
    );
  }
}

const amps = (value: number): string => `${value.toFixed(Math.abs(value) < 1 ? 2 : 1)} A`;
const volts = (value: number): string => `${value.toFixed(1)} V`;
