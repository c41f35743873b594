import { anodeBetween, operatingPoint } from "@/lib/electrolysis";
import { type ByCause, type Cause, CAUSES, normalised } from "./causes";
import { priorOf } from "./context";
import { LEAST_SHOWN, lnAmps, lnVolts } from "./curve";
import { type Observed, type Predicted, weigh } from "./evidence";
import {
  DIAGNOSIS_LIMITS,
  type Expectation,
  type RunReading,
  USUAL_METER_NOISE,
} from "./expectation";
import { type Circumstance, type Model, modelOf } from "./families";
import { waysOf } from "./ways";

const MS_PER_HOUR = 3_600_000;
/** κ gains about 2 % of its 20 °C value a kelvin: salts in water (from memory). */
const WARMING = 0.02;
/** That something is the matter which no family here stands for: as often as in simulated tanks. */
const DOUBT = 0.015;
/** How far the families themselves are off at a reading, relative: assumption. */
const MODEL_ERROR = 0.03;
/** A meter's last digit, as a standard deviation. */
const ROUNDING = { amps: 0.015, volts: 0.05 } as const;

/** What a cause says the meter would show at the last reading, at its likeliest severity. */
export type Told = { readonly amps: number; readonly volts: number };

export type Posterior = {
  /** sums to 1 */
  readonly prior: ByCause;
  /** sums to 1 */
  readonly probability: ByCause;
  readonly told: ReadonlyMap<Cause, Told>;
  /** the readings that were weighed: those since what was put right, sixteen at most */
  readonly weighed: readonly RunReading[];
};

/**
 * Probability of each cause, given the readings: prior times likelihood, divided by the sum over all causes.
 *
 * @param readings of one run in order of time, at least one
 */
export function posteriorOf(readings: readonly RunReading[], expected: Expectation): Posterior {
  const weighed = fewEnough(sinceMended(readings));
  const observed = weighed.map((reading) => observe(reading, expected));
  const model = modelOf(expected, circumstances(weighed, expected), levelOf(weighed) !== null);
  const explained = explanations(observed, model);
  const prior = priorOf(expected);
  const level = levelEvidence(weighed, expected);
  const sign = signEvidence(weighed);
  const ln = new Map(
    CAUSES.map((cause) => {
      const { lnEvidence } = explained(cause);
      return [cause, Math.log(prior[cause]) + lnEvidence + level(cause) + sign(cause)] as const;
    }),
  );
  const most = Math.max(...ln.values());
  const believed = normalised((cause) => Math.exp((ln.get(cause) ?? -Infinity) - most));
  return {
    prior,
    probability: normalised(
      (cause) => (1 - DOUBT) * believed[cause] + (cause === "SOMETHING_ELSE" ? DOUBT : 0),
    ),
    told: toldBy(explained),
    weighed,
  };
}

/**
 * What stopped the current and was put right is over: readings up to the last that showed nothing, less than nothing or
 * a short say nothing of now, if one that shows the opposite follows.
 */
export function sinceMended(readings: readonly RunReading[]): readonly RunReading[] {
  const stopped = ({ currentA, voltsV }: RunReading): boolean =>
    currentA <= DIAGNOSIS_LIMITS.noCurrentA || voltsV < DIAGNOSIS_LIMITS.touchVoltsV;
  const last = readings.at(-1);
  if (!last || stopped(last)) return readings;
  return readings.slice(readings.findLastIndex(stopped) + 1);
}

/** Of more readings the first show how it was, and the last how it went: more would cost time and tell little. */
const FIRST_WEIGHED = 4;
const LAST_WEIGHED = 12;

function fewEnough(readings: readonly RunReading[]): readonly RunReading[] {
  if (readings.length <= FIRST_WEIGHED + LAST_WEIGHED) return readings;
  return [...readings.slice(0, FIRST_WEIGHED), ...readings.slice(-LAST_WEIGHED)];
}

function observe({ currentA, voltsV }: RunReading, expected: Expectation): Observed {
  const noise = expected.meterNoise ?? USUAL_METER_NOISE;
  const [amps, volts] = [Math.abs(currentA), Math.abs(voltsV)];
  return {
    lnAmps: lnAmps(amps),
    lnVolts: lnVolts(volts),
    varianceAmps:
      noise ** 2 + MODEL_ERROR ** 2 + (ROUNDING.amps / Math.max(amps, LEAST_SHOWN.amps)) ** 2,
    varianceVolts: noise ** 2 + (ROUNDING.volts / Math.max(volts, LEAST_SHOWN.volts)) ** 2,
  };
}

/** Where temperature or level was not read, the one read last before it holds; before the first, that one. */
function circumstances(
  readings: readonly RunReading[],
  { loadedMs, bathTemperatureC, workingLevelMm }: Expectation,
): Circumstance[] {
  let temperatureC =
    readings.find((reading) => reading.temperatureC !== null)?.temperatureC ?? bathTemperatureC;
  let levelMm = readings.find((reading) => reading.levelMm !== null)?.levelMm ?? workingLevelMm;
  return readings.map((reading) => {
    temperatureC = reading.temperatureC ?? temperatureC;
    levelMm = reading.levelMm ?? levelMm;
    const kappa = (celsius: number): number => Math.max(0.3, 1 + WARMING * (celsius - 20));
    return {
      hours: Math.max(0, (reading.atMs - loadedMs) / MS_PER_HOUR),
      warmth: kappa(temperatureC) / kappa(bathTemperatureC),
      levelShare: Math.min(1.2, Math.max(0.05, levelMm / workingLevelMm)),
    };
  });
}

type Explained = { readonly lnEvidence: number; readonly told: Told | null };

/** ln of each cause's likelihood: that of its ways, weighted by their shares; and what its best way says. */
function explanations(observed: readonly Observed[], model: Model): (cause: Cause) => Explained {
  const ways = new Map<Cause, { readonly lnTerms: number[]; best: number; told: Told | null }>();
  for (const { cause, share, family } of waysOf(model)) {
    const { lnEvidence, x, s } = weigh(observed, family);
    const term = Math.log(share) + lnEvidence;
    const sofar = ways.get(cause) ?? { lnTerms: [], best: -Infinity, told: null };
    sofar.lnTerms.push(term);
    if (term > sofar.best) {
      sofar.best = term;
      sofar.told = toldAt(family.predict(x, s).at(-1));
    }
    ways.set(cause, sofar);
  }
  const of = (cause: Cause): Explained | undefined => {
    const found = ways.get(cause);
    return found && { lnEvidence: lnSum(found.lnTerms), told: found.told };
  };
  const strange: Explained = { lnEvidence: lnStrange(observed, model), told: null };
  // Reversed leads drive the same current the other way: iron meets iron.
  return (cause) => of(cause === "REVERSED" ? "AS_IT_SHOULD" : cause) ?? strange;
}

function toldAt(shown: Predicted | undefined): Told | null {
  if (!shown) return null;
  return {
    amps: shown.lnAmps <= lnAmps(0) ? 0 : Math.exp(shown.lnAmps),
    volts: shown.lnVolts <= lnVolts(0) ? 0 : Math.exp(shown.lnVolts),
  };
}

function toldBy(explained: (cause: Cause) => Explained): ReadonlyMap<Cause, Told> {
  const told = new Map<Cause, Told>();
  for (const cause of CAUSES) {
    const { told: shown } = explained(cause);
    const sign = cause === "REVERSED" ? -1 : 1;
    if (shown) told.set(cause, { amps: sign * shown.amps, volts: sign * shown.volts });
  }
  return told;
}

function lnSum(terms: readonly number[]): number {
  const most = Math.max(...terms);
  return most + Math.log(terms.reduce((sum, term) => sum + Math.exp(term - most), 0));
}

/** Readings that follow no cause: anything within a few times of what was expected. */
const STRANGE = { amps: 1.2, volts: 0.6 } as const;

function lnStrange(observed: readonly Observed[], { cell }: Model): number {
  const usual = operatingPoint(cell, anodeBetween(cell.dissolvingShare));
  const bell = (off: number, deviation: number): number =>
    -((off / deviation) ** 2) / 2 - Math.log(deviation * Math.sqrt(2 * Math.PI));
  return observed.reduce(
    (sum, seen) =>
      sum +
      bell(seen.lnAmps - lnAmps(usual.currentA), STRANGE.amps) +
      bell(seen.lnVolts - lnVolts(usual.terminalVoltageV), STRANGE.volts),
    0,
  );
}

function levelOf(readings: readonly RunReading[]): number | null {
  return readings.findLast(({ levelMm }) => levelMm !== null)?.levelMm ?? null;
}

/** Usual want of water, mm, and the most that a leak takes, as a share of the level: assumption. */
const USUAL_WANT_MM = 8;
const MOST_LOST = 0.6;

/** A bath wants a little water always; one that wants much has lost it. ln of the density at the level read last. */
function levelEvidence(
  readings: readonly RunReading[],
  { workingLevelMm }: Expectation,
): (cause: Cause) => number {
  const level = levelOf(readings);
  if (level === null) return () => 0;
  const wantMm = Math.max(0, workingLevelMm - level);
  const usual = -wantMm / USUAL_WANT_MM - Math.log(USUAL_WANT_MM);
  const leak = wantMm > DIAGNOSIS_LIMITS.levelWatchMm ? -Math.log(MOST_LOST * workingLevelMm) : -20;
  return (cause) => (cause === "LEVEL_FALLEN" ? leak : usual);
}

/** Share of reversed leads that a meter with no sign, or a person who leaves it out, shows as usual: assumption. */
const SIGN_LOST = 0.02;
const SIGN_WRONG = 1e-6;

function signEvidence(readings: readonly RunReading[]): (cause: Cause) => number {
  const last = readings.at(-1);
  const below = last !== undefined && (last.currentA < 0 || last.voltsV < 0);
  return (cause) => {
    if (cause === "REVERSED") return Math.log(below ? 1 : SIGN_LOST);
    return below ? Math.log(SIGN_WRONG) : 0;
  };
}
