import { continuousRating, openVoltage, type Supply } from "@/lib/electrolysis";
import { OFF_FIRST } from "./checks";
import { DIAGNOSIS_LIMITS, type Finding, type Limits, type RunReading } from "./expectation";
import { amps, volts } from "./words";

/** Looks at the latest reading; null when there is nothing to say. */
type Rule = (latest: RunReading, limits: Limits) => Finding | null;

/**
 * What must be seen to at once or beside the diagnosis, whatever the likeliest cause: reversed leads, a short, an
 * overloaded supply, heat, cold and level. Plain thresholds from `DIAGNOSIS_LIMITS` (common practice, no source).
 *
 * @param latest the reading to judge
 * @returns at most one of the current, and what bath and level show; empty when there is nothing
 * @throws RangeError if the expected band is not 0 ≤ low ≤ high
 * @example safetyFindings(reading, limits)[0]?.code // "REVERSED"
 */
export function safetyFindings(latest: RunReading, limits: Limits): readonly Finding[] {
  checkBand(limits);
  const current = reversed(latest, limits) ?? short(latest, limits) ?? overload(latest, limits);
  return [current, heat(latest, limits), level(latest, limits)].filter(
    (finding) => finding !== null,
  );
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
        code: "TOUCHING",
        severity: "look now",
        title: "Part touching the anode",
        seen: `${amps(currentA)} at only ${volts(voltsV)}; at most ${amps(currentHighA)} expected, and the supply gives ${volts(open)} unloaded.`,
        nextCheck: `${OFF_FIRST} Then look where part, hanger or clip meets the anode, and part them by {50 mm}.`,
      }
    : null;
};

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

const heat: Rule = ({ temperatureC }) => {
  if (temperatureC === null) return null;
  const seen = `The bath is at {${temperatureC.toFixed(0)} °C}.`;
  if (temperatureC > DIAGNOSIS_LIMITS.warmC) {
    const hot = temperatureC > DIAGNOSIS_LIMITS.hotC;
    return {
      code: "HOT",
      severity: hot ? "look now" : "watch",
      title: hot ? "Bath too hot" : "Bath getting hot",
      seen,
      nextCheck: `${OFF_FIRST} Let it cool below {${DIAGNOSIS_LIMITS.warmC} °C}; then look for a touch or too strong a bath.`,
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
    seen: `{${levelMm.toFixed(0)} mm}, {${missing.toFixed(0)} mm} under the working level.`,
    nextCheck: `${OFF_FIRST} Look under the tank for a leak, then top up with plain water: soda does not evaporate.`,
  };
};

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

function checkBand({ currentLowA, currentHighA }: Limits): void {
  if (!(currentLowA >= 0 && currentHighA >= currentLowA && Number.isFinite(currentHighA))) {
    throw new RangeError(
      `expected current must be a band 0 ≤ low ≤ high in A, got ${currentLowA} to ${currentHighA}`,
    );
  }
}
